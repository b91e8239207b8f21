//! The problems at the table that are met, and what they want.

use crate::border::{self, Facts};
use crate::home_ground;
use needlewise::angle::{Convergence, Declination};
use needlewise::problem::{Code, HomeAngles, Level, Problem, Question, Skill, TableProblem, realise};
use needlewise::skills::SKILLS;
use std::collections::BTreeSet;
use std::sync::OnceLock;

/// Of each skill and level.
const PROBLEMS: u64 = 1_500;

/// A problem of each of these seeds, elsewhere and on home ground.
fn drawn_problems(skill: &'static dyn Skill, level: Level) -> impl Iterator<Item = Problem> {
    let at_home = home_ground::is_set_there(skill, level);
    border::seeds(PROBLEMS).map(move |seed| {
        let home = (at_home && seed % 3 == 0).then(|| {
            let declination = (5.0 + (seed % 23) as f64) * if seed % 2 == 0 { 1.0 } else { -1.0 };
            let convergence = 0.4 + (seed % 9) as f64 / 4.0;
            HomeAngles::new(Declination::from_degrees(declination), Convergence::from_degrees(convergence))
        });
        realise(&Code { skill, level, seed, home }).unwrap()
    })
}

/// A skill at a level, with what its problems at the table want, by their fact.
type Wanted = (&'static dyn Skill, Level, BTreeSet<String>);

/// Skills and levels with any problem at the table. Drawing takes longest, so what has none is drawn through once only.
fn at_the_table() -> &'static [Wanted] {
    static FOUND: OnceLock<Vec<Wanted>> = OnceLock::new();
    FOUND.get_or_init(|| {
        let of_level = |skill: &'static dyn Skill, level: Level| -> Wanted {
            let met = drawn_problems(skill, level).filter(is_at_table);
            (skill, level, met.map(|problem| Facts::of(&problem).word("wanted").to_owned()).collect())
        };
        // The other tests wait for this, so it is done by all cores.
        std::thread::scope(|scope| {
            let of_skill =
                |skill: &'static dyn Skill| scope.spawn(move || Level::ALL.map(|level| of_level(skill, level)));
            let searched: Vec<_> = SKILLS.iter().map(|skill| of_skill(*skill)).collect();
            let found = searched.into_iter().flat_map(|levels| levels.join().expect("every problem is drawn"));
            found.filter(|(_, _, wanted)| !wanted.is_empty()).collect()
        })
    })
}

fn is_at_table(problem: &Problem) -> bool {
    matches!(problem.question(), Question::Table(_))
}

/// Every problem at the table.
pub fn each(work: impl FnMut(&Problem, &TableProblem)) -> usize {
    each_wanting(|_| true, work)
}

/// Every problem at the table that wants one of these. Skills and levels that never do are not drawn again.
pub fn each_wanting(wanted: impl Fn(&str) -> bool, mut work: impl FnMut(&Problem, &TableProblem)) -> usize {
    let mut met = 0;
    for (skill, level, all) in at_the_table().iter().filter(|(_, _, all)| all.iter().any(|one| wanted(one))) {
        let mixed = !all.iter().all(|one| wanted(one));
        for problem in drawn_problems(*skill, *level).filter(is_at_table) {
            if !mixed || wanted(Facts::of(&problem).word("wanted")) {
                work(&problem, &problem.table().expect("a table"));
                met += 1;
            }
        }
    }
    println!("{met} problems at the table");
    met
}
