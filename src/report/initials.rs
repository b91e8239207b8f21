//! Initials where others look on: the same for one person in every report, on every sheet and on the screen.

use crate::store::{Learner, LearnerId, Store, StoreError};
use std::collections::HashMap;

/// How each person of the store is shown where others look on: of each word of the name the first letter, and a number behind the
/// letters that somebody had before. Counted in the order in which people were added, whoever is put aside included, so that
/// neither another standard, nor a part of the group, nor somebody who comes gives anybody other initials.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Initials(HashMap<LearnerId, String>);

impl Initials {
    /// Those of everybody in the store.
    ///
    /// # Errors
    /// [`StoreError`] when the store cannot be read.
    pub fn of(store: &Store) -> Result<Initials, StoreError> {
        let mut people = store.learners()?;
        people.extend(store.archived_learners()?);
        // Ids of people begin with the moment at which they were added.
        crate::numbers::arrange_by_key(&mut people, |learner| learner.id);
        let mut had: HashMap<String, usize> = HashMap::new();
        let number = |learner: Learner| {
            let letters = letters(&learner.name);
            let count = had.entry(letters.clone()).or_default();
            *count += 1;
            let shown = if *count == 1 { letters } else { format!("{letters}{count}") };
            (learner.id, shown)
        };
        Ok(Initials(people.into_iter().map(number).collect()))
    }

    /// How somebody is shown; who is not in the store any more, by the letters alone.
    #[must_use]
    pub fn show(&self, learner: &Learner) -> String {
        self.0.get(&learner.id).cloned().unwrap_or_else(|| letters(&learner.name))
    }
}

/// Of each word of a name the first letter.
pub(super) fn letters(name: &str) -> String {
    let letters = name.split([' ', '-']).filter_map(|word| word.chars().find(|letter| letter.is_alphanumeric()));
    letters.map(|letter| format!("{}.", letter.to_uppercase())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learner::Placement;
    use crate::skills;

    fn store() -> (tempfile::TempDir, Store) {
        let folder = tempfile::tempdir().unwrap();
        let metas: Vec<_> = skills::metas().collect();
        let store = Store::open(&folder.path().join("records.db"), &metas).unwrap();
        (folder, store)
    }

    fn add(store: &mut Store, name: &str, second: i64) -> Learner {
        let at = jiff::Timestamp::from_second(1_700_000_000 + second).unwrap();
        store.add_learner(name, Placement::Fresh, at).unwrap()
    }

    #[test]
    fn who_came_first_has_the_bare_letters_and_keeps_them_whoever_comes_later() {
        let (_folder, mut store) = store();
        let zoe = add(&mut store, "Zita", 1);
        assert_eq!(Initials::of(&store).unwrap().show(&zoe), "Z.");
        let ahead = add(&mut store, "Zaid", 2);
        let other = add(&mut store, "Mia Zorn", 3);
        let shown = Initials::of(&store).unwrap();
        assert_eq!([&zoe, &ahead, &other].map(|one| shown.show(one)), ["Z.", "Z.2", "M.Z."]);
    }

    #[test]
    fn putting_somebody_aside_gives_nobody_other_initials() {
        let (_folder, mut store) = store();
        let [first, second, third] = [("Ana", 1), ("Adam", 2), ("Ali", 3)].map(|(name, at)| add(&mut store, name, at));
        let before = Initials::of(&store).unwrap();
        store.archive_learner(second.id, true, jiff::Timestamp::from_second(1_700_000_009).unwrap()).unwrap();
        assert_eq!(Initials::of(&store).unwrap(), before);
        assert_eq!([&first, &second, &third].map(|one| before.show(one)), ["A.", "A.2", "A.3"]);
    }
}
