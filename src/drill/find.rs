//! Where drills and standards are found: inside the program, in a folder of the configuration, in any file.

use super::{Drill, DrillError, Origin, What};
use crate::numbers;
use crate::problem::SkillMeta;
use crate::textfile::{FileError, FileKey, kebab, nearest, read_file, shown};
use include_dir::{Dir, include_dir};
use std::ffi::OsStr;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static FILES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/drills");

/// Read once, when first asked for. A test reads every file, so that none is left out here for a fault in it.
static EMBEDDED: LazyLock<Vec<Drill>> = LazyLock::new(|| {
    let read = |(file, text)| Drill::read(text, Origin::Embedded(file), crate::skills::metas()).ok();
    let mut drills: Vec<Drill> = Drill::embedded_files().filter_map(read).collect();
    in_teaching_order(&mut drills, crate::skills::metas());
    drills
});

/// All drills, and what kept others from being among them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DrillList {
    /// Those of the program in the order of teaching, then the leader's own in the order of their files.
    pub drills: Vec<Drill>,
    /// One for each file of the leader's that could not be read or has another drill's name.
    pub errors: Vec<DrillError>,
}

impl Drill {
    /// The drills that come with the program, in the order of teaching.
    #[must_use]
    pub fn embedded() -> &'static [Drill] {
        &EMBEDDED
    }

    /// The files of the drills that come with the program: their names (`first-evening.toml`) and their texts,
    /// full of remarks, so that a leader can copy one.
    pub fn embedded_files() -> impl Iterator<Item = (&'static str, &'static str)> {
        FILES.files().filter_map(|file| Some((file.path().to_str()?, file.contents_utf8()?)))
    }

    /// All drills there are; `config_dir` is the folder of the configuration, whose folder `drills` may hold more.
    /// A broken drill does not hide the others.
    #[must_use]
    pub fn all(config_dir: Option<&Path>) -> DrillList {
        let (drills, errors) = Shelf::new(config_dir).list();
        DrillList { drills, errors }
    }

    /// The drill with this name, or in this file where `what` ends in `.toml` or has a path's separator. A name is
    /// also found in capitals and with blanks.
    ///
    /// # Errors
    /// [`DrillError::NoFile`], [`DrillError::File`], and as [`Drill::read`]; [`DrillError::Unknown`] when no drill has the name, [`DrillError::Twice`] when two have. A
    /// broken file of that name gives its own error.
    pub fn find(what: &str, config_dir: Option<&Path>) -> Result<Drill, DrillError> {
        Shelf::new(config_dir).named_or_in_file(what)
    }
}

impl Filed for Drill {
    const WHAT: What = What::Drill;
    const FOLDER: &'static str = "drills";

    fn embedded() -> &'static [Drill] {
        &EMBEDDED
    }

    fn read(
        text: &str,
        origin: Origin,
        skills: impl Iterator<Item = &'static SkillMeta> + Clone,
    ) -> Result<Drill, DrillError> {
        Drill::read(text, origin, skills)
    }

    fn name(&self) -> &str {
        &self.name
    }

    fn origin(&self) -> &Origin {
        &self.origin
    }
}

/// What stands in files of TOML, some of them inside the program.
pub(super) trait Filed: Clone + Sized + 'static {
    /// What it is.
    const WHAT: What;
    /// The folder of the configuration that holds a leader's own.
    const FOLDER: &'static str;

    /// Those inside the program.
    fn embedded() -> &'static [Self];
    /// Reads one.
    fn read(
        text: &str,
        origin: Origin,
        skills: impl Iterator<Item = &'static SkillMeta> + Clone,
    ) -> Result<Self, DrillError>;
    /// Its name.
    fn name(&self) -> &str;
    /// Where it was read.
    fn origin(&self) -> &Origin;
}

/// Where one looks for something by its name.
pub(super) struct Shelf<'e, T, S = ()> {
    pub(super) embedded: &'e [T],
    pub(super) folder: Option<PathBuf>,
    pub(super) skills: S,
}

impl<T: Filed> Shelf<'static, T> {
    pub(super) fn new(
        config_dir: Option<&Path>,
    ) -> Shelf<'static, T, impl Iterator<Item = &'static SkillMeta> + Clone> {
        Shelf {
            embedded: T::embedded(),
            folder: config_dir.map(|folder| folder.join(T::FOLDER)),
            skills: crate::skills::metas(),
        }
    }
}

impl<T: Filed, S: Iterator<Item = &'static SkillMeta> + Clone> Shelf<'_, T, S> {
    /// The leader's own files, each with what is in it or its error.
    fn own(&self) -> Vec<(PathBuf, Result<T, DrillError>)> {
        let Some(folder) = &self.folder else { return Vec::new() };
        let mut paths: Vec<PathBuf> = match fs::read_dir(folder) {
            Ok(entries) => entries.filter_map(|entry| Some(entry.ok()?.path())).filter(|path| is_toml(path)).collect(),
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Vec::new(),
            Err(error) => {
                let unreadable = FileError::Unreadable { path: folder.clone(), reason: error.kind() };
                return vec![(folder.clone(), Err(DrillError::File(unreadable)))];
            }
        };
        numbers::arrange(&mut paths, Ord::cmp);
        paths
            .into_iter()
            .map(|path| {
                let read = load(&path, self.skills.clone());
                (path, read)
            })
            .collect()
    }

    pub(super) fn list(&self) -> (Vec<T>, Vec<DrillError>) {
        let (mut found, mut errors) = (self.embedded.to_vec(), Vec::new());
        for (_, read) in self.own() {
            match read.and_then(|read| alone(read, &found)) {
                Ok(read) => found.push(read),
                Err(error) => errors.push(error),
            }
        }
        (found, errors)
    }

    pub(super) fn named_or_in_file(&self, what: &str) -> Result<T, DrillError> {
        if what.contains(std::path::is_separator) || is_toml(Path::new(what)) {
            return load(Path::new(what), self.skills.clone());
        }
        self.find(what)
    }

    pub(super) fn find(&self, name: &str) -> Result<T, DrillError> {
        let wanted = kebab(name);
        let mut known: Vec<T> = self.embedded.to_vec();
        let mut broken = None;
        let mut same_file = None;
        for (path, read) in self.own() {
            let named_so = path.file_stem().and_then(OsStr::to_str) == Some(wanted.as_str());
            match read {
                Ok(read) if read.name() == wanted => known.push(alone(read, &known)?),
                Ok(read) => {
                    if named_so {
                        same_file = Some(read.name().to_owned());
                    }
                    known.push(read);
                }
                Err(error) if broken.is_none() && (named_so || says_name(&error, &wanted)) => broken = Some(error),
                Err(_) => {}
            }
        }
        if let Some(at) = known.iter().position(|known| known.name() == wanted) {
            return Ok(known.swap_remove(at));
        }
        if let Some(error) = broken {
            return Err(error);
        }
        let names = known.iter().map(Filed::name);
        let nearest = same_file.or_else(|| nearest(name, names.clone()).map(str::to_owned));
        let known = names.map(str::to_owned).collect();
        Err(DrillError::Unknown { name: shown(name), nearest, known, what: T::WHAT })
    }
}

/// The same again, unless one of the others has its name.
fn alone<T: Filed>(read: T, others: &[T]) -> Result<T, DrillError> {
    match others.iter().find(|other| other.name() == read.name()) {
        Some(other) => Err(DrillError::Twice {
            name: read.name().to_owned(),
            first: other.origin().clone(),
            second: read.origin().clone(),
            what: T::WHAT,
        }),
        None => Ok(read),
    }
}

/// Whether a broken file says that this is its name.
fn says_name(error: &DrillError, name: &str) -> bool {
    let DrillError::Faults(faults) = error else { return false };
    faults.text.lines().any(|line| {
        line.split_once('=').is_some_and(|(key, value)| {
            key.trim() == super::Key::Name.word() && value.trim().trim_matches(['"', '\'']) == name
        })
    })
}

/// A drill can be done when the last of its skills has been taught: by that skill, then the short ones first.
fn in_teaching_order(drills: &mut [Drill], skills: impl Iterator<Item = &'static SkillMeta> + Clone) {
    let taught = |drill: &Drill| {
        let place = |id| skills.clone().position(|skill| skill.id == id);
        drill.skills.iter().filter_map(|wanted| place(wanted.skill.id)).max()
    };
    drills.sort_by_cached_key(|drill| (taught(drill), drill.skills.len(), drill.name.clone()));
}

/// A file of TOML by its name; hidden files belong to editors.
fn is_toml(path: &Path) -> bool {
    let hidden = path.file_name().is_none_or(|name| name.as_encoded_bytes().starts_with(b"."));
    !hidden && path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("toml"))
}

pub(super) fn load<T: Filed>(
    path: &Path,
    skills: impl Iterator<Item = &'static SkillMeta> + Clone,
) -> Result<T, DrillError> {
    let text = read_file(path).map_err(|error| match error {
        FileError::NoFile { path } => {
            let stem = path.file_stem().and_then(OsStr::to_str).unwrap_or_default();
            let meant = T::embedded().iter().map(Filed::name).find(|name| *name == stem);
            DrillError::NoFile { path, meant, what: T::WHAT }
        }
        error => DrillError::File(error),
    })?;
    T::read(&text, Origin::File(path.to_owned()), skills)
}
