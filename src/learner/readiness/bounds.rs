//! The bounds of one try.

/// What follows after an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Decision {
    /// The next problem is asked.
    GoOn,
    /// This try ends with *ready*.
    Ready,
    /// This try ends without.
    Stop,
}

/// The bounds of one try: after so many problems asked, *ready* at so many right or more, *stop* at so many right or fewer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// For 1, 2, … asked.
    ready_at: Vec<Option<u8>>,
    /// For 1, 2, … asked.
    stop_at: Vec<Option<u8>>,
}

impl Bounds {
    /// Bounds for 1, 2, … problems asked, at most 255. `None` when they do not belong together: of different length, empty,
    /// crossing, or leaving the last problem undecided.
    #[must_use]
    pub fn new(ready_at: Vec<Option<u8>>, stop_at: Vec<Option<u8>>) -> Option<Bounds> {
        let same = ready_at.len() == stop_at.len() && (1..=255).contains(&ready_at.len());
        let apart = ready_at
            .iter()
            .zip(&stop_at)
            .all(|(ready, stop)| !matches!((ready, stop), (Some(ready), Some(stop)) if ready <= stop));
        let decided = match (ready_at.last(), stop_at.last()) {
            (Some(Some(ready)), Some(Some(stop))) => stop.checked_add(1) == Some(*ready),
            (Some(Some(ready)), Some(None)) => *ready == 0,
            (Some(None), Some(Some(stop))) => usize::from(*stop) >= ready_at.len(),
            _ => false,
        };
        (same && apart && decided).then_some(Bounds { ready_at, stop_at })
    }

    #[cfg(test)]
    /// Bounds that are known to belong together; a test asserts it of each.
    pub(super) const fn known(ready_at: Vec<Option<u8>>, stop_at: Vec<Option<u8>>) -> Bounds {
        Bounds { ready_at, stop_at }
    }

    /// The most problems of a try.
    #[must_use]
    pub fn cap(&self) -> u8 {
        u8::try_from(self.ready_at.len()).unwrap_or(u8::MAX)
    }

    /// *Ready* at this many right or more, for 1, 2, … asked.
    #[must_use]
    pub fn ready_at(&self) -> &[Option<u8>] {
        &self.ready_at
    }

    /// *Stop* at this many right or fewer, for 1, 2, … asked.
    #[must_use]
    pub fn stop_at(&self) -> &[Option<u8>] {
        &self.stop_at
    }

    /// What follows after so many asked with so many right. Nothing asked goes on; past the cap a try is over.
    #[must_use]
    pub fn decide(&self, asked: u8, right: u8) -> Decision {
        let Some(at) = asked.checked_sub(1).map(usize::from) else { return Decision::GoOn };
        match (self.ready_at.get(at), self.stop_at.get(at)) {
            (None, _) | (_, None) => Decision::Stop,
            (Some(Some(ready)), _) if right >= *ready => Decision::Ready,
            (_, Some(Some(stop))) if right <= *stop => Decision::Stop,
            _ => Decision::GoOn,
        }
    }
}
