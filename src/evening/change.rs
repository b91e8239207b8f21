//! The plan changed by hand.

use super::{Evening, Job};

impl Evening {
    /// Gives a guest the next job that is possible in a piece of the evening: a sheet, a printed map, then the laptop. Whoever
    /// had the laptop goes to a sheet, and so does whoever was shown or showed. What all do together stays.
    pub fn change(&mut self, slot: usize, guest: usize) {
        let due = self.guests.get(guest).is_some_and(|guest| guest.check.is_some());
        let Some(jobs) = self.slots.get_mut(slot).map(|slot| &mut slot.jobs) else { return };
        let Some(now) = jobs.get(guest).copied() else { return };
        let next = match now {
            Job::Round(_) | Job::Game(_) => return,
            Job::Sheet => Job::Map,
            // Nobody is checked before having met the skills.
            Job::Map if due => Job::Check,
            Job::Map | Job::Check => Job::Practice,
            Job::Practice | Job::Pair(_) => Job::Sheet,
        };
        if let Job::Pair(pair) = now {
            jobs[pair.shows] = Job::Sheet;
            jobs[pair.whom] = Job::Sheet;
        }
        if next.at_laptop()
            && let Some(other) = jobs.iter().position(|job| job.at_laptop()).filter(|other| *other != guest)
        {
            jobs[other] = Job::Sheet;
        }
        jobs[guest] = next;
    }

    /// Gives the laptop back to whoever had it, with what they did there, where nobody has it now; whether that was so.
    pub fn give_back(&mut self, slot: usize, guest: usize, job: Job) -> bool {
        let Some(jobs) = self.slots.get_mut(slot).map(|slot| &mut slot.jobs) else { return false };
        let is_free = !jobs.iter().any(|job| job.at_laptop());
        match jobs.get_mut(guest) {
            Some(now) if is_free && job.at_laptop() && matches!(now, Job::Sheet | Job::Map) => {
                *now = job;
                true
            }
            _ => false,
        }
    }

    /// Makes a piece longer or shorter by so many minutes, at least 5 of them; what comes later moves.
    pub fn stretch(&mut self, slot: usize, by: i32) {
        if let Some(slot) = self.slots.get_mut(slot) {
            slot.minutes = slot.minutes.saturating_add_signed(by).max(5);
        }
        let mut from = 0;
        for slot in &mut self.slots {
            slot.from = from;
            from += slot.minutes;
        }
    }
}
