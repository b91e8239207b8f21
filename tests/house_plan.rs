//! The arrows of the house plan: which module may use which. Parsed from the source with syn, grouped imports and
//! `super` included; code under `cfg(test)` is exempt.

mod source;

use source::{files, only_for_tests, source};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use syn::visit::{self, Visit};

/// What every module may use.
const FOR_ALL: &str = "numbers";

/// Each module and what else it may use.
const PLAN: &[(&str, &[&str])] = &[
    (FOR_ALL, &[]),
    ("angle", &[]),
    ("ground", &["angle"]),
    ("geomag", &["angle"]),
    ("scene", &[]),
    ("paper", &["scene"]),
    ("world", &["angle", "ground", "geomag", "scene"]),
    ("terrain", &["angle", "ground", "scene"]),
    ("maptable", &["angle", "scene", "terrain"]),
    ("problem", &["angle", "ground", "scene", "terrain", "maptable"]),
    ("skills", &["angle", "ground", "scene", "terrain", "maptable", "problem"]),
    ("game", &["angle", "problem"]),
    ("learner", &["angle", "problem"]),
    ("lesson", &["angle", "ground", "geomag", "scene", "world", "terrain", "maptable", "problem", "skills"]),
    ("textfile", &[]),
    ("platform", &[]),
    ("words", &["textfile"]),
    ("config", &["angle", "ground", "geomag", "textfile", "platform"]),
    ("course", &["angle", "ground", "geomag", "scene", "textfile", "config"]),
    ("drill", &["angle", "problem", "skills", "learner", "textfile"]),
    ("store", &["problem", "learner", "platform", "textfile"]),
    (
        "session",
        &[
            "angle", "ground", "geomag", "maptable", "problem", "skills", "lesson", "learner", "config", "drill",
            "store", "words",
        ],
    ),
    ("clerk", &["problem", "skills", "learner", "drill", "store", "session"]),
    ("report", &["angle", "scene", "problem", "skills", "learner", "drill", "store", "session"]),
    ("evening", &["problem", "skills", "game", "learner", "drill", "store", "session", "report"]),
    (
        "plain",
        &[
            "angle", "maptable", "problem", "lesson", "learner", "drill", "store", "session", "clerk", "words",
            "textfile",
        ],
    ),
    ("worksheet", &["angle", "ground", "scene", "paper", "terrain", "problem", "session", "plain", "course", "report"]),
    (
        "tui",
        &[
            "angle", "ground", "scene", "paper", "terrain", "maptable", "problem", "skills", "game", "lesson",
            "learner", "drill", "store", "session", "clerk", "report", "evening", "platform", "words", "world",
            "textfile",
        ],
    ),
    (
        "cli",
        &[
            "angle",
            "ground",
            "geomag",
            "scene",
            "maptable",
            "problem",
            "skills",
            "learner",
            "config",
            "game",
            "textfile",
            "platform",
            "drill",
            "store",
            "session",
            "clerk",
            "report",
            "evening",
            "plain",
            "tui",
            "words",
            "world",
            "paper",
            "worksheet",
            "course",
        ],
    ),
];

/// What a file of module `home` uses of the crate's other modules.
struct Uses<'a> {
    home: &'a str,
    /// How many `super`s lead from this place to the crate's root.
    depth: usize,
    modules: BTreeSet<String>,
    found: BTreeSet<String>,
}

impl Uses<'_> {
    fn path(&mut self, segments: &[String]) {
        let rest = match segments.first().map(String::as_str) {
            Some("crate" | "needlewise") => &segments[1..],
            Some("super") => {
                let supers = segments.iter().take_while(|segment| *segment == "super").count();
                if supers < self.depth {
                    return;
                }
                &segments[supers..]
            }
            _ => return,
        };
        if let Some(module) = rest.first().filter(|module| self.modules.contains(*module) && *module != self.home) {
            self.found.insert(module.clone());
        }
    }

    fn tree(&mut self, before: &[String], tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(path) => {
                let mut segments = before.to_vec();
                segments.push(path.ident.to_string());
                self.tree(&segments, &path.tree);
            }
            syn::UseTree::Name(name) => self.leaf(before, &name.ident.to_string()),
            syn::UseTree::Rename(rename) => self.leaf(before, &rename.ident.to_string()),
            syn::UseTree::Glob(_) => self.path(before),
            syn::UseTree::Group(group) => group.items.iter().for_each(|tree| self.tree(before, tree)),
        }
    }

    fn leaf(&mut self, before: &[String], name: &str) {
        let mut segments = before.to_vec();
        segments.push(name.to_owned());
        self.path(&segments);
    }
}

impl<'ast> Visit<'ast> for Uses<'_> {
    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        if !only_for_tests(&item.attrs) {
            self.tree(&[], &item.tree);
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let segments: Vec<String> = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
        self.path(&segments);
        visit::visit_path(self, path);
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !only_for_tests(&item.attrs) {
            self.depth += 1;
            visit::visit_item_mod(self, item);
            self.depth -= 1;
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if !only_for_tests(&item.attrs) {
            visit::visit_item_fn(self, item);
        }
    }
}

fn modules() -> BTreeSet<String> {
    PLAN.iter().map(|(module, _)| (*module).to_owned()).collect()
}

/// Uses found in the source of one file, `depth` supers below the crate's root.
fn uses(home: &str, depth: usize, source: &str) -> BTreeSet<String> {
    let file = syn::parse_file(source).expect("the source parses");
    let mut uses = Uses { home, depth, modules: modules(), found: BTreeSet::new() };
    uses.visit_file(&file);
    uses.found
}

/// The files of a module, each with its depth below the crate's root.
fn files_of(module: &str) -> Vec<(PathBuf, usize)> {
    let folder = source().join(module);
    let mut all = Vec::new();
    if folder.is_dir() {
        files(&folder, 1, &mut all);
    } else {
        all.push((source().join(format!("{module}.rs")), 1));
    }
    assert!(!all.is_empty(), "module {module} has no files");
    all
}

#[test]
fn arrows_only_point_up_the_house_plan() {
    let mut wrong = Vec::new();
    for (module, allowed) in PLAN {
        for (path, depth) in files_of(module) {
            for used in uses(module, depth, &fs::read_to_string(&path).unwrap()) {
                if used != FOR_ALL && !allowed.contains(&used.as_str()) {
                    wrong.push(format!("{} uses {used}", path.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_arrow_stands_in_the_plan_that_nobody_goes_along() {
    let mut idle = Vec::new();
    for (module, allowed) in PLAN {
        let used: BTreeSet<String> = files_of(module)
            .into_iter()
            .flat_map(|(path, depth)| uses(module, depth, &fs::read_to_string(&path).unwrap()))
            .collect();
        idle.extend(allowed.iter().filter(|arrow| !used.contains(**arrow)).map(|arrow| format!("{module}: {arrow}")));
    }
    assert!(idle.is_empty(), "{idle:?}");
}

#[test]
fn every_module_of_the_crate_stands_in_the_house_plan() {
    let lib = syn::parse_file(&fs::read_to_string(source().join("lib.rs")).unwrap()).unwrap();
    let declared: BTreeSet<String> = lib
        .items
        .into_iter()
        .filter_map(|item| if let syn::Item::Mod(module) = item { Some(module.ident.to_string()) } else { None })
        .collect();
    assert_eq!(declared, modules());
}

#[test]
fn nothing_but_the_platform_module_asks_which_platform_it_is() {
    let words =
        ["std::os::", "cfg(unix)", "cfg(not(unix))", "cfg(windows)", "cfg!(", "target_os", "signal_hook", "/usr/"];
    let mut all = Vec::new();
    files(&source(), 0, &mut all);
    let (mut inside, mut outside) = (0, Vec::new());
    for (path, _) in all {
        // Whether the program checks itself is no question of the platform.
        let text = fs::read_to_string(&path).unwrap().replace("cfg!(checked)", "");
        let found = words.iter().filter(|word| text.contains(*word)).count();
        if path.starts_with(source().join("platform")) {
            inside += found;
        } else if found > 0 && !path.iter().any(|part| part == "tests") && path.file_name() != Some("tests.rs".as_ref())
        {
            outside.push(path);
        }
    }
    assert!(inside > 3, "the words are no longer what is looked for");
    assert!(outside.is_empty(), "{outside:?}");
}

/// Every Rust file below a folder, tests included.
fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let below = |path: PathBuf| if path.is_dir() { rust_files(&path) } else { vec![path] };
    entries.flat_map(below).filter(|path| path.extension().is_some_and(|end| end == "rs")).collect()
}

#[test]
fn no_file_of_the_source_or_the_tests_grows_past_500_lines() {
    for folder in ["src", "tests", "benches", "fuzz/fuzz_targets"] {
        let all = rust_files(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder));
        assert!(all.len() >= 5, "{folder}");
        for path in all {
            let lines = fs::read_to_string(&path).unwrap().lines().count();
            assert!(lines <= 500, "{} has {lines} lines", path.display());
        }
    }
}

#[test]
fn the_main_function_only_calls_the_command_line() {
    let main = fs::read_to_string(source().join("main.rs")).unwrap();
    let code: Vec<&str> = main.lines().filter(|line| !line.starts_with("//") && !line.trim().is_empty()).collect();
    assert_eq!(code, ["fn main() -> std::process::ExitCode {", "    needlewise::cli::run()", "}"]);
}

#[test]
fn the_parser_of_arrows_sees_groups_supers_and_paths() {
    let found = |depth, source: &str| uses("problem", depth, source).into_iter().collect::<Vec<_>>();
    assert_eq!(found(2, "use crate::{angle::Angle, store::{self, Store}};"), ["angle", "store"]);
    assert_eq!(found(2, "use super::super::tui::view;"), ["tui"]);
    assert_eq!(found(2, "use super::tui;"), Vec::<String>::new(), "a sibling of the same name is not the module");
    assert_eq!(found(1, "use super::tui;"), ["tui"]);
    assert_eq!(found(1, "fn f() { crate::geomag::field(); }"), ["geomag"]);
    assert_eq!(found(1, "mod inner { use super::super::cli; }"), ["cli"]);
    assert_eq!(found(1, "use crate as whole; fn f(x: crate::learner::Beliefs) {}"), ["learner"]);
    assert_eq!(found(1, "#[cfg(test)] mod tests { use crate::tui::Model; }"), Vec::<String>::new());
    assert_eq!(found(1, "#[test] fn t() { crate::tui::view(); }"), Vec::<String>::new());
    assert_eq!(found(1, "use crate::problem::Code;"), Vec::<String>::new(), "a module may use itself");
}
