//! Fills a store quickly, for measuring: not part of the program.

use super::error::At;
use super::fold::head;
use super::ids::Id;
use super::record::insert;
use super::{AttemptKind, Help, LearnerId, NewAttempt, NewSession, RecordedVerdict, Store, StoreError};
use crate::learner::Placement;
use crate::problem::Level;
use jiff::{Timestamp, ToSpan};
use rusqlite::TransactionBehavior;

const FIRST_DAY: jiff::civil::Date = jiff::civil::date(2025, 1, 1);
/// Answers of one sitting.
const SITTING: u64 = 40;

/// Adds `learners` learners (`Learner 001`, …) and spreads `attempts` answers over them and all skills, the first on
/// 2025-01-01; then folds the summaries. The same numbers give the same records but for the random part of the ids.
///
/// # Errors
/// [`StoreError`], when the file cannot be written.
pub fn fill_with_answers(store: &mut Store, learners: u32, attempts: u64) -> Result<Vec<LearnerId>, StoreError> {
    let start: Timestamp = "2025-01-01T09:00:00Z".parse().unwrap_or(Timestamp::UNIX_EPOCH);
    let mut ids = Vec::new();
    store.conn.pragma_update(None, "synchronous", "OFF").at(&store.path)?;
    for number in 1..=learners {
        ids.push(store.add_learner(&format!("Learner {number:03}"), Placement::Fresh, start)?.id);
    }
    let mut left = if store.skills.is_empty() { 0 } else { attempts };
    let mut turn = 0_u64;
    let mut random = 1_u64;
    while left > 0 && !ids.is_empty() {
        let learner = ids[usize::try_from(turn % ids.len() as u64).unwrap_or(0)];
        let round = turn / ids.len() as u64;
        let at = start
            + (24 * i64::try_from(round).unwrap_or(0)).hours()
            + (turn % ids.len() as u64).cast_signed().minutes();
        let day = FIRST_DAY.saturating_add(i64::try_from(round).unwrap_or(0).days());
        let program = env!("CARGO_PKG_VERSION").to_owned();
        let session = store.start_session(&NewSession {
            learner,
            at,
            day,
            day_given: false,
            drill: None,
            check: None,
            program,
        })?;
        let Store { path, conn, skills, .. } = store;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let head = head(&tx, learner).at(path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let key: i64 =
            tx.query_row("SELECT key FROM sessions WHERE id = ?1", [session.0], |row| row.get(0)).at(path)?;
        for n in 0..left.min(SITTING) {
            random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let skill = skills[((random >> 33) % skills.len() as u64) as usize];
            let wrong = (random >> 20) % 10;
            let verdict = match (wrong, skill.mixups.first()) {
                (0..3, Some(mixup)) => RecordedVerdict::Mixup(mixup.id.as_str().to_owned()),
                (3, _) => RecordedVerdict::Unrecognised,
                _ => RecordedVerdict::Right,
            };
            let level = Level::ALL[((random >> 40) % 4) as usize];
            let seed = random >> 44;
            let attempt = NewAttempt {
                learner,
                session,
                at: at + (i64::try_from(n).unwrap_or(0) * 25).seconds(),
                day,
                kind: AttemptKind::Practice,
                code: format!("{}-{level}-{seed}-v{}", skill.mark, skill.generation),
                skill: skill.id.to_owned(),
                level,
                generation: skill.generation,
                seed,
                facts: r#"{"true_bearing_deg":48.0,"declination_deg":-17.0}"#.to_owned(),
                right: r#"{"bearing":65.0}"#.to_owned(),
                given: r#"{"bearing":"065"}"#.to_owned(),
                verdict,
                exposed: skill.mixups.iter().map(|mixup| mixup.id.as_str().to_owned()).collect(),
                help: Help::Bare,
                explained: true,
                took_ms: Some(9_000),
                moves: None,
            };
            insert(&tx, Id::new(attempt.at), &head, key, &attempt, None).at(path)?;
        }
        tx.commit().at(path)?;
        left -= left.min(SITTING);
        turn += 1;
    }
    store.rebuild()?;
    store.conn.pragma_update(None, "synchronous", "FULL").at(&store.path)?;
    store.conn.execute_batch("PRAGMA wal_checkpoint(TRUNCATE)").at(&store.path)?;
    Ok(ids)
}
