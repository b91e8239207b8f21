//! Builds again when a drill is changed, added or taken away: the drills are embedded into the program.

fn main() {
    println!("cargo::rerun-if-changed=drills");
}
