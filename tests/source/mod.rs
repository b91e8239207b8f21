//! The product's own source, for tests that read it: all files but those that only tests compile.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Whether an item is compiled for tests alone.
pub fn only_for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("test")
            || attribute.path().is_ident("cfg")
                && attribute.meta.require_list().is_ok_and(|list| list.tokens.to_string().starts_with("test"))
    })
}

/// All Rust files below a folder with the number of supers that lead from each to the crate's root; files of modules
/// declared under `cfg(test)` are left out.
pub fn files(folder: &Path, depth: usize, out: &mut Vec<(PathBuf, usize)>) {
    let mut names: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.sort();
    let test_modules: BTreeSet<String> = names
        .iter()
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .flat_map(|path| syn::parse_file(&fs::read_to_string(path).unwrap()).expect("the source parses").items)
        .filter_map(|item| match item {
            syn::Item::Mod(module) if only_for_tests(&module.attrs) => Some(module.ident.to_string()),
            _ => None,
        })
        .collect();
    for path in names {
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        if test_modules.contains(&stem) {
            continue;
        }
        if path.is_dir() {
            files(&path, depth + 1, out);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let own = if stem == "mod" { 0 } else { 1 };
            out.push((path, depth + own));
        }
    }
}

/// Where the source is.
pub fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}
