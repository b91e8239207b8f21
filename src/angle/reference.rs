//! The check values that the tests of this module transcribe, so that a slip in transcribing cannot pass.

/// Fails unless the reference file has this id with exactly these cells.
pub(super) fn assert_states(id: &str, given: &str, expected: &str) {
    let file = include_str!("../../tests/reference/check_values.csv");
    let mut rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(file.as_bytes());
    let row = rows
        .records()
        .map(|row| row.expect("the reference file is well-formed"))
        .find(|row| &row[0] == id)
        .unwrap_or_else(|| panic!("{id} is not in the reference file"));
    assert_eq!((&row[2], &row[3]), (given, expected), "{id} is transcribed wrongly");
}
