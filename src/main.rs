//! The needlewise program; everything is in the library.

fn main() -> std::process::ExitCode {
    needlewise::cli::run()
}
