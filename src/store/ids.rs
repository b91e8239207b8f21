//! Ids: UUIDs of version 7, ordered by time, unique across laptops.

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use std::fmt;
use uuid::Uuid;

/// A learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LearnerId(pub(super) Id);

/// One sitting of a learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SessionId(pub(super) Id);

/// A patrol.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PatrolId(pub(super) Id);

/// A check of a learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CheckId(pub(super) Id);

/// A sheet of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SheetId(pub(super) Id);

/// An entry of what was seen on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SeenId(pub(super) Id);

/// One answer. Within a store, a learner's later attempt always has the larger id.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AttemptId(pub(super) Id);

impl fmt::Display for LearnerId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.0.fmt(f)
    }
}

impl fmt::Display for SessionId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.0.fmt(f)
    }
}

impl fmt::Display for AttemptId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.0.fmt(f)
    }
}

impl SessionId {
    /// That of a sitting which is not begun: no session of any store has it.
    pub(crate) const NONE: SessionId = SessionId(Id(Uuid::nil()));
}

#[cfg(test)]
impl SessionId {
    /// An id for tests that have no store.
    pub(crate) fn of_number(number: u64) -> SessionId {
        SessionId(Id(Uuid::from_u128(u128::from(number))))
    }
}

#[cfg(test)]
impl LearnerId {
    /// An id for tests that have no store.
    pub(crate) fn of_number(number: u64) -> LearnerId {
        LearnerId(Id(Uuid::from_u128(u128::from(number))))
    }
}

/// What they have in common: sixteen bytes in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Id(pub(super) Uuid);

impl Id {
    /// A new id of this moment; moments before 1970 count as 1970.
    pub(super) fn new(at: jiff::Timestamp) -> Id {
        let seconds = u64::try_from(at.as_second()).unwrap_or(0);
        let nanos = u32::try_from(at.subsec_nanosecond()).unwrap_or(0);
        Id(Uuid::new_v7(uuid::Timestamp::from_unix(uuid::NoContext, seconds, nanos)))
    }

    /// A new id of this moment that is larger than `last`, also when the clock was set back or two fall in one
    /// millisecond: the order of ids is the order of the fold.
    pub(super) fn after(last: Option<Id>, at: jiff::Timestamp) -> Id {
        let fresh = Id::new(at);
        match last {
            Some(last) if last >= fresh => last.successor(),
            _ => fresh,
        }
    }

    /// An id behind `last` and before, or at, whatever comes [`Id::after`] it from this moment on: also when the clock was set back, or
    /// stands still.
    pub(super) fn right_after(last: Option<Id>, at: jiff::Timestamp) -> Id {
        const MOMENT: u32 = 80;
        let fresh = Id::new(at);
        match last {
            Some(last) if last.0.as_u128() >> MOMENT >= fresh.0.as_u128() >> MOMENT => last.successor(),
            _ => fresh,
        }
    }

    /// A new id that is larger than `last`, also when the clock was set back, and that no other laptop gives to something else
    /// behind the same `last`: drawn anew in the millisecond after it.
    pub(super) fn apart_after(last: Option<Id>, at: jiff::Timestamp) -> Id {
        const MOMENT: u32 = 80;
        let fresh = Id::new(at);
        match last {
            Some(last) if last >= fresh => {
                let next = i64::try_from((last.0.as_u128() >> MOMENT) + 1).ok();
                let next = next.and_then(|next| jiff::Timestamp::from_millisecond(next).ok());
                next.map_or_else(|| last.successor(), Id::new)
            }
            _ => fresh,
        }
    }

    /// The id of a mark on the record with this id that every laptop works out for itself: the same everywhere.
    pub(super) fn of_mark(self) -> Id {
        // Other than any of version 7: the version's bits are those of version 8, which is anybody's to give a meaning.
        Id(Uuid::from_u128(self.0.as_u128() ^ (0xf << 76)))
    }

    /// The next larger UUID of version 7 (RFC 9562, 5.7: 48 bits time, 4 version, 12, 2 variant, 62).
    fn successor(self) -> Id {
        const LOW: u128 = (1 << 62) - 1;
        const MIDDLE: u128 = (1 << 12) - 1;
        let bits = self.0.as_u128();
        let packed = (bits >> 80 << 74) | ((bits >> 64 & MIDDLE) << 62) | (bits & LOW);
        let next = packed.wrapping_add(1) & ((1 << 122) - 1);
        let bits = (next >> 74 << 80) | (7 << 76) | ((next >> 62 & MIDDLE) << 64) | (0b10 << 62) | (next & LOW);
        Id(Uuid::from_u128(bits))
    }
}

impl ToSql for Id {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(ValueRef::Blob(self.0.as_bytes())))
    }
}

impl FromSql for Id {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Id> {
        Uuid::from_slice(value.as_blob()?).map(Id).map_err(|error| FromSqlError::Other(Box::new(error)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(ms: i64) -> jiff::Timestamp {
        jiff::Timestamp::from_millisecond(ms).unwrap()
    }

    fn is_version_seven(id: Id) -> bool {
        id.0.get_version() == Some(uuid::Version::SortRand) && id.0.get_variant() == uuid::Variant::RFC4122
    }

    #[test]
    fn an_id_begins_with_its_moment() {
        // RFC 9562, appendix A.6: 2022-02-22T19:22:22Z is 0x017F22E279B0 milliseconds.
        let id = Id::new("2022-02-22T19:22:22Z".parse().unwrap());
        assert_eq!(&id.0.as_bytes()[..6], &[0x01, 0x7F, 0x22, 0xE2, 0x79, 0xB0]);
        assert!(is_version_seven(id));
    }

    #[test]
    fn a_clock_set_back_does_not_turn_the_order_round() {
        let late = Id::new(at(2_000_000_000_000));
        let next = Id::after(Some(late), at(1_000_000_000_000));
        assert!(next > late && is_version_seven(next));
    }

    #[test]
    fn what_comes_right_after_is_behind_the_last_and_not_behind_the_next() {
        for (ms, next) in [(2_000, 2_000), (2_000, 1_000), (3_000, 4_000)] {
            let last = Id::new(at(2_000));
            let (mark, next) = (Id::right_after(Some(last), at(ms)), Id::after(Some(last), at(next)));
            assert!(last < mark && mark <= next, "{ms}: {last:?} {mark:?} {next:?}");
        }
    }

    #[test]
    fn two_laptops_whose_clocks_are_behind_give_two_ids() {
        let last = Id::new(at(2_000));
        let (one, other) = (Id::apart_after(Some(last), at(1_000)), Id::apart_after(Some(last), at(1_500)));
        assert!(one > last && other > last && one != other, "{last:?} {one:?} {other:?}");
        assert!(is_version_seven(one) && Id::apart_after(Some(last), at(3_000)) > one);
    }

    #[test]
    fn the_carry_passes_over_version_and_variant() {
        let full = Id(Uuid::from_u128(0x0000_0000_0001_7FFF_BFFF_FFFF_FFFF_FFFF));
        assert!(is_version_seven(full));
        assert_eq!(full.successor().0.as_u128(), 0x0000_0000_0002_7000_8000_0000_0000_0000);
    }

    proptest! {
        #[test]
        fn ids_of_one_learner_always_grow(moments in proptest::collection::vec(-5_000_i64..5_000, 1..50)) {
            let mut last = None;
            for ms in moments {
                let next = Id::after(last, at(1_700_000_000_000 + ms));
                prop_assert!(last.is_none_or(|last| next > last));
                prop_assert!(is_version_seven(next));
                last = Some(next);
            }
        }
    }
}
