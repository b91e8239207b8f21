//! Writes the records that the targets begin from anew: wanted where a kind of record is new, for other records make other
//! inputs. `cargo run --example write_records` in this folder.

use needlewise_fuzz::records::made;

fn main() -> std::io::Result<()> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/records");
    std::fs::write(format!("{folder}/ours.jsonl"), made(&["Ilva", "Bo", "Kim", "Kim the younger"], 0))?;
    std::fs::write(format!("{folder}/theirs.jsonl"), made(&["Ilva", "kim", "Una"], 5_000))
}
