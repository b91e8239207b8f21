//! What a group did together in turns or rounds, for all to hear: nothing about anybody.

use super::flow::Flow;
use std::fmt;

/// How long turns and a round go on where nothing else was asked for, in minutes.
pub const GROUP_MINUTES: u32 = 10;

/// What each had, and what to teach next, is for the leader alone.
pub const GROUP_ELSEWHERE: &str = "What each had, and what to teach next, stands on the leader's page.";

/// What a group did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct GroupTally {
    /// How many members answered something.
    pub members: usize,
    /// How many answers there were.
    pub answered: u32,
    /// How many of them right.
    pub right: u32,
}

impl GroupTally {
    /// Of right and all answers of each member.
    #[must_use]
    pub fn of(members: impl Iterator<Item = (u32, u32)>) -> GroupTally {
        let answering = members.filter(|(_, answered)| *answered > 0);
        answering.fold(GroupTally::default(), |sum, (right, answered)| GroupTally {
            members: sum.members + 1,
            answered: sum.answered + answered,
            right: sum.right + right,
        })
    }

    /// Of those who took turns.
    #[must_use]
    pub fn of_turns<'a>(flows: impl Iterator<Item = &'a Flow>) -> GroupTally {
        GroupTally::of(flows.filter_map(|flow| match flow {
            Flow::Practice(practice) => {
                let answers = practice.summary().answers;
                Some((answers.right, answers.all()))
            }
            Flow::Check(_) => None,
        }))
    }
}

/// What is said when turns or rounds are over: `The rounds are over. Thank you.`
#[must_use]
pub fn group_over(title: &str) -> String {
    format!("{title} are over. Thank you.")
}

/// What is said when the keyboard passes on.
#[must_use]
pub fn your_turn(name: &str) -> String {
    format!("{name}, it is your turn.")
}

impl fmt::Display for GroupTally {
    /// A sentence.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let members = if self.members == 1 { "member" } else { "members" };
        let answers = if self.answered == 1 { "answer" } else { "answers" };
        write!(f, "{} {members}, {} {answers}, {} right. Everything is kept.", self.members, self.answered, self.right)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_answered_nothing_is_not_counted() {
        let tally = GroupTally::of([(2, 3), (0, 0), (0, 1)].into_iter());
        assert_eq!(tally.to_string(), "2 members, 4 answers, 2 right. Everything is kept.");
        assert_eq!(
            GroupTally::of([(1, 1)].into_iter()).to_string(),
            "1 member, 1 answer, 1 right. Everything is kept."
        );
    }
}
