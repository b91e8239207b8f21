//! Keys counted: who sees the table for the first time and does only what its lines tell, and who knows it.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts is small")]

use super::assert_verdict;
use super::play::Play;
use super::table::{at, desk, wanted};
use needlewise::maptable::{Hold, LineName, Task};
use needlewise::problem::Verdict;

/// Problems of each skill that are played.
const PLAYED: u64 = 6;
/// Columns of an 80-column screen before the compass and the words under it.
const BESIDE_MAP: usize = 44;

/// Another problem by hand at level 1.
fn problem(skill: &'static str, seed: u64) -> Play {
    at(skill, 1, |desk| {
        let start = desk.problem.exercise.start;
        // Another one each time: told apart by how the map lies.
        matches!(desk.problem.exercise.task, Task::Orient(_)) && start.map().degrees() as u64 % PLAYED == seed
    })
}

/// A play that counts its keys.
struct Counted {
    play: Play,
    keys: usize,
    turns: usize,
}

impl Counted {
    fn of(play: Play) -> Counted {
        Counted { play, keys: 0, turns: 0 }
    }

    fn press(&mut self, key: &str) {
        self.play.press(key);
        self.keys += 1;
        self.turns += usize::from(["<up>", "<down>", "<left>", "<right>"].contains(&key));
    }

    /// A key that the bottom line tells with these words.
    fn told(&mut self, key: &str, words: &str) {
        let text = self.play.text(80, 24);
        let bottom = text.trim_end().lines().last().unwrap_or_default();
        assert!(bottom.contains(words), "{words} is not in the bottom line: {bottom}");
        self.press(key);
    }

    /// What the words under the compass say, from this beginning on.
    fn status(&self, begins: &str) -> Option<String> {
        let text = self.play.text(80, 24);
        let beside_map = |line: &str| line.chars().skip(BESIDE_MAP).collect::<String>().trim().to_owned();
        let mut words =
            text.lines().map(beside_map).skip_while(|line| !line.starts_with("turning ")).collect::<Vec<_>>();
        // The last two lines belong to the map and the keys.
        words.truncate(words.len().saturating_sub(2));
        let words = words.join(" ");
        words.find(begins).map(|at| words[at..].to_owned())
    }

    fn dial(&mut self, number: &str) {
        for digit in number.chars() {
            self.told(&digit.to_string(), "dial");
        }
        self.told("<enter>", "set the dial");
    }

    /// Lays the edge on this line, its travel arrow to the north, by what the status tells of the edge.
    fn lay(&mut self, line: LineName) {
        let begins = format!("edge on {}", line.words());
        while self.status(&begins).is_none() {
            self.told("e", "lay edge");
            assert!(self.keys < 40, "the edge never comes to {begins}");
        }
        if !self.status("edge ").unwrap_or_default().contains("to its north end") {
            self.told("r", "reverse");
        }
    }

    /// Turns as the status says, by tens while there are tens, by ones then, until the needle is boxed.
    fn turn_as_told(&mut self) {
        loop {
            let needle = self.status("needle ").expect("the needle is told");
            if needle.contains("boxed") {
                return;
            }
            // `needle 116° clockwise of the orienting arrow: →`; where its south end lies in the arrow, half a turn is left.
            let off = needle.split(['°', ' ']).find_map(|word| word.parse::<u32>().ok()).unwrap_or(180);
            let key = match (needle.contains("counterclockwise"), off >= 10) {
                (true, true) => "<up>",
                (true, false) => "<left>",
                (false, true) => "<down>",
                (false, false) => "<right>",
            };
            self.told(key, "turn");
            assert!(self.keys < 60, "it is never boxed: {needle}");
        }
    }
}

fn cases() -> impl Iterator<Item = (Play, LineName)> {
    let skills = [("orient-magnetic-line", LineName::Magnetic), ("orient-true-line", LineName::True)];
    skills.into_iter().flat_map(|(skill, line)| (0..PLAYED).map(move |seed| (problem(skill, seed), line)))
}

#[test]
fn a_first_timer_who_does_what_the_lines_tell_orients_a_map_in_fewer_than_forty_keys() {
    for (play, line) in cases() {
        let number = format!("{:03}", wanted(&play));
        let mut counted = Counted::of(play);
        counted.dial(&number);
        counted.lay(line);
        let held = counted.status("turning ").unwrap_or_default();
        assert!(held.starts_with("turning map and compass "), "nobody has to look for what is turned: {held}");
        counted.turn_as_told();
        counted.told("<enter>", "done");
        assert_verdict(&counted.play, |verdict| verdict == Verdict::Right);
        assert!(counted.keys < 40, "{} keys", counted.keys);
    }
}

#[test]
fn who_knows_the_table_needs_eight_keys_beside_the_turn() {
    for (play, line) in cases() {
        let number = wanted(&play).to_string();
        let mut counted = Counted::of(play);
        counted.dial(&number);
        counted.lay(line);
        assert_eq!(desk(&counted.play).held, Hold::Both);
        counted.turn_as_told();
        counted.press("<enter>");
        assert_verdict(&counted.play, |verdict| verdict == Verdict::Right);
        assert!(counted.keys - counted.turns <= 8, "{} keys", counted.keys - counted.turns);
    }
}
