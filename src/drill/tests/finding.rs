//! Drills in files and folders.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::fakes::{GOOD, SKILLS, read};
use crate::drill::find::{Shelf, load};
use crate::drill::{Drill, DrillError, Origin, What};
use crate::problem::SkillMeta;
use crate::textfile::{FileError, MOST_BYTES};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A folder of drills, beside one drill that comes with the program.
struct Fixture {
    folder: TempDir,
    embedded: Vec<Drill>,
}

impl Fixture {
    fn new() -> Fixture {
        let folder = tempfile::tempdir().unwrap();
        let built_in = GOOD.replace("tuesday-evening", "first-evening");
        let origin = Origin::Embedded("first-evening.toml");
        Fixture { folder, embedded: vec![Drill::read(&built_in, origin, SKILLS.iter()).unwrap()] }
    }

    fn file(self, name: &str, content: impl AsRef<[u8]>) -> Fixture {
        fs::write(self.path(name), content).unwrap();
        self
    }

    fn drill(self, file: &str, name: &str) -> Fixture {
        self.file(file, GOOD.replace("tuesday-evening", name))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn shelf(&self) -> Shelf<'_, Drill, std::slice::Iter<'static, SkillMeta>> {
        Shelf { embedded: &self.embedded, folder: Some(self.folder.path().to_owned()), skills: SKILLS.iter() }
    }

    fn names(&self) -> Vec<String> {
        self.shelf().list().0.into_iter().map(|drill| drill.name).collect()
    }
}

fn load_fake(path: &Path) -> Result<Drill, DrillError> {
    load(path, SKILLS.iter())
}

#[test]
fn a_drill_is_found_by_its_name_also_in_capitals_and_with_blanks() {
    let fixture = Fixture::new().drill("mine.toml", "camp-fire");
    for name in ["camp-fire", "Camp fire", "CAMP_FIRE", " camp-fire "] {
        let found = fixture.shelf().find(name).unwrap();
        assert_eq!((found.name.as_str(), found.origin), ("camp-fire", Origin::File(fixture.path("mine.toml"))));
    }
    assert_eq!(fixture.shelf().find("first evening").unwrap().origin, Origin::Embedded("first-evening.toml"));
}

#[test]
fn one_broken_drill_does_not_hide_the_others() {
    let fixture = Fixture::new()
        .drill("a.toml", "a")
        .file("b.toml", "name = b")
        .file("c.toml", [0xff, 0xfe])
        .drill("d.toml", "d");
    assert_eq!(fixture.names(), ["first-evening", "a", "d"]);
    let errors = fixture.shelf().list().1;
    assert!(
        matches!(&errors[..], [DrillError::Faults(_), DrillError::File(FileError::NotText { line: 1, byte: 1, .. })]),
        "{errors:?}"
    );
    assert!(fixture.shelf().find("d").is_ok());
}

#[test]
fn a_broken_drill_asked_for_by_name_tells_its_own_fault() {
    let fixture = Fixture::new()
        .file("camp.toml", "name = \"other\"")
        .file("x.toml", GOOD.replace("tuesday-evening", "named").replace("= 10", "= 0"));
    for name in ["camp", "named"] {
        assert!(matches!(fixture.shelf().find(name), Err(DrillError::Faults(_))), "{name}");
    }
}

#[test]
fn two_drills_of_one_name_are_told_with_both_places() {
    let fixture = Fixture::new().drill("a.toml", "camp").drill("b.toml", "camp").drill("c.toml", "first-evening");
    let camp = DrillError::Twice {
        what: What::Drill,
        name: "camp".into(),
        first: Origin::File(fixture.path("a.toml")),
        second: Origin::File(fixture.path("b.toml")),
    };
    let first = DrillError::Twice {
        what: What::Drill,
        name: "first-evening".into(),
        first: Origin::Embedded("first-evening.toml"),
        second: Origin::File(fixture.path("c.toml")),
    };
    assert_eq!(fixture.shelf().find("camp"), Err(camp.clone()));
    assert_eq!(fixture.shelf().find("first-evening"), Err(first.clone()));
    assert_eq!(fixture.names(), ["first-evening", "camp"], "the first one of each stays");
    assert_eq!(fixture.shelf().list().1, [camp, first]);
}

#[test]
fn a_name_that_nobody_has_is_answered_with_the_nearest_and_with_all() {
    let fixture = Fixture::new().drill("tuesday.toml", "camp-fire");
    let unknown = |name: &str| match fixture.shelf().find(name) {
        Err(DrillError::Unknown { nearest, known, .. }) => (nearest, known),
        other => panic!("{other:?}"),
    };
    let (nearest, known) = unknown("first-evning");
    assert_eq!(nearest.as_deref(), Some("first-evening"));
    assert_eq!(known, ["first-evening", "camp-fire"]);
    assert_eq!(unknown("tuesday").0.as_deref(), Some("camp-fire"), "the file's name leads to the drill's");
    assert_eq!(unknown("xyz").0, None);
}

#[test]
fn only_files_that_end_in_toml_and_are_not_hidden_are_drills() {
    let fixture = Fixture::new().drill("a.TOML", "a").file("notes.txt", "x").file(".b.toml", "x").file("c.toml~", "x");
    assert_eq!(fixture.names(), ["first-evening", "a"]);
    assert_eq!(fixture.shelf().list().1, []);
}

#[test]
fn no_folder_of_ones_own_is_no_error() {
    let fixture = Fixture::new();
    let shelf = Shelf { folder: Some(fixture.path("missing")), ..fixture.shelf() };
    assert_eq!(shelf.list().1, []);
    assert_eq!(Shelf { folder: None, ..fixture.shelf() }.list().0.len(), 1);
}

#[test]
fn a_file_where_the_folder_should_be_is_told_and_hides_nothing() {
    let fixture = Fixture::new().file("drills", "x");
    let (drills, errors) = Shelf { folder: Some(fixture.path("drills")), ..fixture.shelf() }.list();
    assert_eq!(drills.len(), 1);
    let told =
        DrillError::File(FileError::Unreadable { path: fixture.path("drills"), reason: io::ErrorKind::NotADirectory });
    assert_eq!(errors, [told]);
}

#[test]
fn a_file_of_ten_megabytes_is_refused_by_its_size() {
    let fixture = Fixture::new().file("big.toml", vec![b'#'; 10 * 1024 * 1024]);
    let path = fixture.path("big.toml");
    assert_eq!(load_fake(&path), Err(DrillError::File(FileError::TooBig { path, bytes: Some(10 * 1024 * 1024) })));
}

#[test]
fn the_largest_file_that_is_allowed_is_read_and_one_byte_more_is_not() {
    let padding = "#".repeat(MOST_BYTES as usize - GOOD.len());
    let fixture =
        Fixture::new().file("full.toml", format!("{GOOD}{padding}")).file("over.toml", format!("{GOOD}{padding}#"));
    assert_eq!(load_fake(&fixture.path("full.toml")).map(|drill| drill.skills), read(GOOD).map(|drill| drill.skills));
    assert!(matches!(load_fake(&fixture.path("over.toml")), Err(DrillError::File(FileError::TooBig { .. }))));
}

#[cfg(target_os = "linux")]
#[test]
fn a_device_is_no_file_and_is_not_read_to_its_end() {
    let path = PathBuf::from("/dev/zero");
    assert_eq!(load_fake(&path), Err(DrillError::File(FileError::NotAFile { path })));
}

#[test]
fn a_byte_that_is_not_text_is_named_with_its_line() {
    let fixture = Fixture::new().file("x.toml", b"name = \"a\"\ntitle = \"\xc3\xa9t\xe9\"\n");
    let path = fixture.path("x.toml");
    assert_eq!(load_fake(&path), Err(DrillError::File(FileError::NotText { path, line: 2, byte: 13 })));
}

#[test]
fn a_folder_a_missing_file_and_an_empty_file_each_have_their_own_error() {
    let fixture = Fixture::new().file("empty.toml", "").file("file", "");
    let folder = fixture.folder.path().to_owned();
    assert_eq!(load_fake(&folder), Err(DrillError::File(FileError::Folder { path: folder })));
    let path = fixture.path("missing.toml");
    assert_eq!(load_fake(&path), Err(DrillError::NoFile { path, meant: None, what: What::Drill }));
    let path = fixture.path("empty.toml");
    assert_eq!(load_fake(&path), Err(DrillError::Empty { origin: Origin::File(path), what: What::Drill }));
    let path = fixture.path("file").join("x.toml");
    let reason = io::ErrorKind::NotADirectory;
    assert_eq!(load_fake(&path), Err(DrillError::File(FileError::Unreadable { path, reason })));
}

#[test]
fn what_ends_in_toml_or_has_a_folder_in_it_is_a_file_and_no_name() {
    for what in ["nowhere/first-evening", "./first-evening", "first-evening-of-nobody.toml"] {
        assert!(matches!(Drill::find(what, None), Err(DrillError::NoFile { .. })), "{what}");
    }
}
