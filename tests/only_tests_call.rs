//! Nothing that only tests call stays in the product. Every module is public, so the compiler cannot tell: this reads the
//! source with syn and looks for each public item's name outside tests, imports and the item's own definition.
//!
//! Names are not resolved: a method counts as called where any method of its name is. So what is found is surely not
//! called, and something that is not called may hide behind a common name.

mod source;

use source::{files, only_for_tests, source};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use syn::visit::{self, Visit};

/// What stays although nothing in the product calls it, and who needs it.
const NEEDED: &[(&str, &str)] = &[
    ("Field::inclination_change", "benches/geomag: what the other library works out, too"),
    ("Field::total_change_nt", "benches/geomag: what the other library works out, too"),
    (
        "fill_with_answers",
        "benches/store.rs, benches/report.rs: a store as large as after years; issue 16: cost as it grows",
    ),
];

/// A public item.
#[derive(Debug)]
struct Item {
    /// `name`, or `Type::name` for what belongs to a type.
    name: String,
    file: String,
    /// How it can be called: by its own name, or only behind its type's.
    only_behind_type: bool,
}

/// A name that is used.
#[derive(Debug)]
struct Use {
    /// What stands before `::`, if anything does.
    behind: Option<String>,
    name: String,
    /// The items around the place of use.
    within: Vec<usize>,
}

/// All items and uses of the product.
#[derive(Default)]
struct Product {
    items: Vec<Item>,
    uses: Vec<Use>,
    aliases: BTreeMap<String, BTreeSet<String>>,
    /// The types whose blocks stand around the uses: a type does not keep itself alive.
    types: BTreeMap<String, BTreeSet<usize>>,
    within: Vec<usize>,
    own_type: Vec<String>,
    file: String,
}

impl Product {
    fn item(&mut self, visibility: Option<&syn::Visibility>, ident: &syn::Ident, assoc: bool) -> Option<usize> {
        if visibility.is_some_and(|visibility| !matches!(visibility, syn::Visibility::Public(_))) {
            return None;
        }
        let name = match self.own_type.last() {
            Some(own) => format!("{own}::{ident}"),
            None => ident.to_string(),
        };
        self.items.push(Item { name, file: self.file.clone(), only_behind_type: assoc });
        Some(self.items.len() - 1)
    }

    fn used(&mut self, behind: Option<String>, name: String) {
        let behind = match behind {
            Some(own) if own == "Self" => self.own_type.last().cloned().or(Some(own)),
            other => other,
        };
        self.uses.push(Use { behind, name, within: self.within.clone() });
    }

    /// The words of a macro or an attribute, whose inside is no syntax tree.
    fn words(&mut self, tokens: &str, texts_too: bool) {
        let (mut before, mut word, mut colons) = (None::<String>, String::new(), 0);
        let mut in_text = false;
        let mut letters = tokens.chars().peekable();
        while let Some(letter) = letters.next() {
            if letter == '\\' && in_text {
                letters.next();
                continue;
            }
            if letter == '"' {
                in_text = !in_text;
            }
            if (letter.is_alphanumeric() || letter == '_') && (!in_text || texts_too) {
                word.push(letter);
                if letters.peek().is_some_and(|next| next.is_alphanumeric() || *next == '_') {
                    continue;
                }
                let behind = if colons == 2 { before.take() } else { None };
                let whole = std::mem::take(&mut word);
                before = Some(whole.clone());
                colons = 0;
                self.used(behind, whole);
            } else if letter == ':' {
                colons += 1;
            } else if !letter.is_whitespace() {
                before = None;
                colons = 0;
            }
        }
    }

    fn inside(&mut self, item: Option<usize>, visit: impl FnOnce(&mut Self)) {
        self.within.extend(item);
        visit(self);
        if item.is_some() {
            self.within.pop();
        }
    }

    /// The items that nothing alive uses, and that need not stay.
    fn dead(&self, stay: &[&str]) -> Vec<usize> {
        let mut by_name: BTreeMap<&str, Vec<&Use>> = BTreeMap::new();
        for one in &self.uses {
            by_name.entry(&one.name).or_default().push(one);
        }
        let mut dead: BTreeSet<usize> = BTreeSet::new();
        loop {
            let before = dead.len();
            for (number, item) in self.items.iter().enumerate() {
                if dead.contains(&number) || stay.contains(&item.name.as_str()) {
                    continue;
                }
                let (own, name) =
                    item.name.split_once("::").map_or((None, item.name.as_str()), |(own, name)| (Some(own), name));
                let same = |behind: &str| {
                    own.is_none_or(|own| own == behind || self.aliases.get(behind).is_some_and(|all| all.contains(own)))
                };
                let alive = by_name.get(name).into_iter().flatten().any(|one| {
                    let outside = !one.within.iter().any(|within| *within == number || dead.contains(within));
                    let fits = !item.only_behind_type || one.behind.as_deref().is_some_and(same);
                    outside && fits
                });
                if !alive {
                    dead.insert(number);
                }
            }
            if dead.len() == before {
                return dead.into_iter().collect();
            }
        }
    }
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Const(item) => &item.attrs,
        syn::Item::Enum(item) => &item.attrs,
        syn::Item::Fn(item) => &item.attrs,
        syn::Item::Impl(item) => &item.attrs,
        syn::Item::Macro(item) => &item.attrs,
        syn::Item::Mod(item) => &item.attrs,
        syn::Item::Static(item) => &item.attrs,
        syn::Item::Struct(item) => &item.attrs,
        syn::Item::Trait(item) => &item.attrs,
        syn::Item::Type(item) => &item.attrs,
        syn::Item::Use(item) => &item.attrs,
        _ => &[],
    }
}

impl<'ast> Visit<'ast> for Product {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if only_for_tests(attributes(item)) {
            return;
        }
        let own = match item {
            syn::Item::Const(item) => self.item(Some(&item.vis), &item.ident, false),
            syn::Item::Enum(item) => self.item(Some(&item.vis), &item.ident, false),
            syn::Item::Fn(item) => self.item(Some(&item.vis), &item.sig.ident, false),
            syn::Item::Static(item) => self.item(Some(&item.vis), &item.ident, false),
            syn::Item::Struct(item) => self.item(Some(&item.vis), &item.ident, false),
            syn::Item::Trait(item) => self.item(Some(&item.vis), &item.ident, false),
            syn::Item::Type(item) => self.item(Some(&item.vis), &item.ident, false),
            _ => None,
        };
        if let syn::Item::Enum(syn::ItemEnum { ident, .. }) | syn::Item::Struct(syn::ItemStruct { ident, .. }) = item {
            self.types.entry(ident.to_string()).or_default().extend(own);
        }
        if let syn::Item::Type(alias) = item {
            let mut names = Names::default();
            names.visit_type(&alias.ty);
            self.aliases.entry(alias.ident.to_string()).or_default().extend(names.0);
        }
        self.inside(own, |product| visit::visit_item(product, item));
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        let mut names = Names::default();
        names.visit_type(&item.self_ty);
        let own = names.0.first().cloned().unwrap_or_default();
        let types = self.types.get(&own).cloned().unwrap_or_default();
        // Where two types have one name, neither is taken for the one around this block.
        let within = if types.len() == 1 { types.first().copied() } else { None };
        self.own_type.push(own);
        self.inside(within, |product| visit::visit_item_impl(product, item));
        self.own_type.pop();
    }

    fn visit_item_trait(&mut self, item: &'ast syn::ItemTrait) {
        self.own_type.push(item.ident.to_string());
        visit::visit_item_trait(self, item);
        self.own_type.pop();
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        let own = self.item(None, &item.sig.ident, false);
        self.inside(own, |product| visit::visit_trait_item_fn(product, item));
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if only_for_tests(&item.attrs) {
            return;
        }
        let assoc = item.sig.receiver().is_none();
        let own = self.item(Some(&item.vis), &item.sig.ident, assoc);
        self.inside(own, |product| visit::visit_impl_item_fn(product, item));
    }

    fn visit_impl_item_const(&mut self, item: &'ast syn::ImplItemConst) {
        if only_for_tests(&item.attrs) {
            return;
        }
        let own = self.item(Some(&item.vis), &item.ident, true);
        self.inside(own, |product| visit::visit_impl_item_const(product, item));
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.renamed(&item.tree);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let mut behind = None;
        for segment in &path.segments {
            let name = segment.ident.to_string();
            self.used(behind.take(), name.clone());
            behind = Some(name);
        }
        visit::visit_path(self, path);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        self.used(None, call.method.to_string());
        visit::visit_expr_method_call(self, call);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.words(&call.tokens.to_string(), false);
        visit::visit_macro(self, call);
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        match &attribute.meta {
            syn::Meta::List(list) if !attribute.path().is_ident("doc") => {
                // Serde names functions in texts; the sentences of errors are texts, too, and name nothing.
                let texts_too = !attribute.path().is_ident("error");
                self.words(&list.tokens.to_string(), texts_too);
            }
            _ => {}
        }
    }
}

impl Product {
    fn renamed(&mut self, tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(path) => self.renamed(&path.tree),
            syn::UseTree::Group(group) => group.items.iter().for_each(|tree| self.renamed(tree)),
            syn::UseTree::Rename(rename) => {
                self.aliases.entry(rename.rename.to_string()).or_default().insert(rename.ident.to_string());
                // Whoever renames something uses it under the other name, which is not followed.
                self.used(None, rename.ident.to_string());
            }
            syn::UseTree::Name(_) | syn::UseTree::Glob(_) => {}
        }
    }
}

/// The names in a type.
#[derive(Default)]
struct Names(Vec<String>);

impl<'ast> Visit<'ast> for Names {
    fn visit_path(&mut self, path: &'ast syn::Path) {
        if let Some(last) = path.segments.last() {
            self.0.push(last.ident.to_string());
        }
        visit::visit_path(self, path);
    }
}

fn read<'s>(sources: impl IntoIterator<Item = (String, &'s str)>) -> Product {
    let parsed: Vec<(String, syn::File)> =
        sources.into_iter().map(|(file, text)| (file, syn::parse_file(text).expect("the source parses"))).collect();
    let mut product = Product::default();
    // Blocks of a type may stand in other files than the type itself, so the types are gathered first.
    for (file, tree) in &parsed {
        product.file.clone_from(file);
        product.visit_file(tree);
    }
    let types = std::mem::take(&mut product.types);
    let mut product = Product { types, ..Product::default() };
    for (file, tree) in &parsed {
        product.file.clone_from(file);
        let known = product.types.clone();
        product.visit_file(tree);
        product.types = known;
    }
    product
}

fn dead_in(text: &str) -> Vec<String> {
    let product = read([("one.rs".to_owned(), text)]);
    product.dead(&[]).into_iter().map(|number| product.items[number].name.clone()).collect()
}

#[test]
fn nothing_that_only_tests_call_stays_in_the_product() {
    let mut all = Vec::new();
    files(&source(), 0, &mut all);
    let texts: Vec<(String, String)> = all
        .into_iter()
        .map(|(path, _)| {
            let short = path.strip_prefix(source()).unwrap().display().to_string();
            (short, fs::read_to_string(path).unwrap())
        })
        .collect();
    let product = read(texts.iter().map(|(file, text)| (file.clone(), text.as_str())));
    assert!(product.items.len() > 1_000, "the source was read");
    let dead = |stay: &[&str]| product.dead(stay).into_iter().map(|number| &product.items[number]).collect::<Vec<_>>();
    let needed: Vec<&str> = NEEDED.iter().map(|(name, _)| *name).collect();
    let found: Vec<String> =
        dead(&needed).into_iter().map(|item| format!("src/{}: {}", item.file, item.name)).collect();
    assert!(found.is_empty(), "only tests call these {}:\n{}", found.len(), found.join("\n"));
    let without = dead(&[]);
    for (name, who) in NEEDED {
        assert!(
            without.iter().any(|item| item.name == *name),
            "{name} is called by now, or gone: take it off the list"
        );
        assert!(who.starts_with("issue ") || who.starts_with("benches/"), "{name}: who needs it?");
    }
}

#[test]
fn what_is_called_only_by_itself_by_tests_or_by_what_nobody_calls_is_found() {
    assert_eq!(dead_in("pub fn a() { a() } fn main() {}"), ["a"]);
    assert_eq!(dead_in("pub fn a() {} pub fn b() { a() }"), ["a", "b"]);
    assert_eq!(dead_in("pub fn a() {} #[cfg(test)] mod tests { fn t() { super::a() } }"), ["a"]);
    assert_eq!(dead_in("pub fn a() {} pub use self::a; fn b() { c() }"), ["a"]);
    assert_eq!(dead_in("/// [`a`] and a\npub fn a() {}"), ["a"]);
    assert_eq!(dead_in("pub fn a() {} fn b() { println!(\"a\") }"), ["a"]);
    assert_eq!(
        dead_in("pub struct A; impl A { pub fn new() -> A { A } pub fn b(&self) {} } fn f(x: A) {}"),
        ["A::new", "A::b"]
    );
    assert_eq!(dead_in("pub struct A; impl A { pub const B: A = A; }"), ["A", "A::B"]);
    assert_eq!(
        dead_in(
            "pub struct A; pub struct B; impl A { pub fn new() {} } impl B { pub fn new() {} } fn f(_: A, _: B) { A::new() }"
        ),
        ["B::new"]
    );
}

#[test]
fn what_is_called_in_any_way_is_not_found() {
    let none: [&str; 0] = [];
    assert_eq!(dead_in("pub fn a() {} fn main() { a() }"), none);
    assert_eq!(dead_in("pub fn a() {} fn main() { println!(\"{}\", a()) }"), none);
    assert_eq!(dead_in("pub fn a() {} fn main() { [1].map(a); }"), none);
    assert_eq!(dead_in("pub fn a() {} #[error(\"{}\", a(.0))] struct B;"), none);
    assert_eq!(dead_in("pub fn a() {} #[serde(with = \"a\")] struct B;"), none);
    assert_eq!(dead_in("pub struct A; impl A { pub fn new() {} } fn f() { crate::x::A::new() }"), none);
    assert_eq!(
        dead_in("pub struct A; impl A { pub fn new() {} pub fn b(&self) { Self::new() } } fn f(a: A) { a.b() }"),
        none
    );
    assert_eq!(dead_in("pub struct A; type B = A; impl A { pub fn new() {} } fn f() { B::new() }"), none);
    assert_eq!(dead_in("pub struct A; impl A { pub fn new() {} } fn f() { vec![A::new()]; }"), none);
    assert_eq!(dead_in("pub(crate) fn a() {} fn b() {}"), none, "the compiler sees these itself");
}
