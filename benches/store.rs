//! What the records cost: committing one answer beside a bare insert with the same durability, and opening a profile in a
//! store with a million attempts.
//!
//! `NEEDLEWISE_FILL=<file> cargo bench --bench store` makes a store with 50 learners and 100,000 attempts of the
//! program's own skills instead (for measuring the start), and measures nothing; with `NEEDLEWISE_FILL_WITH=200x5000` one of
//! 200 learners with 5,000 attempts each.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a bench counts and draws is small")]

use criterion::{BatchSize, Criterion, criterion_group};
use jiff::civil::date;
use jiff::{Timestamp, ToSpan};
use needlewise::problem::{Family, Level, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};
use needlewise::store::{AttemptKind, Believed, Help, LearnerId, NewAttempt, NewSession, RecordedVerdict, Store, fill};
use rusqlite::{Connection, params};
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

/// As many skills as the skill map has, each with as many mix-ups as a rich one.
fn skills() -> Vec<&'static SkillMeta> {
    const CLASSES: [MixupClass; 6] = [
        MixupClass::Reversed,
        MixupClass::Mirrored,
        MixupClass::Sign,
        MixupClass::Forgotten,
        MixupClass::Twice,
        MixupClass::Wrap,
    ];
    let leak = |text: String| -> &'static str { text.leak() };
    let skill = |number: usize| -> &'static SkillMeta {
        let mixups = CLASSES.iter().map(|&class| MixupMeta {
            id: MixupId(leak(format!("mixed-up-{}", class.id()))),
            class,
            said: "went wrong",
            mend: "Go right.",
        });
        Box::leak(Box::new(SkillMeta {
            id: leak(format!("skill-number-{number}")),
            mark: leak(format!("X{number}")),
            family: Family::Dial,
            title: "A skill",
            can: "Can do it.",
            levels: ["one", "two", "three", "four"],
            prerequisites: &[],
            mixups: mixups.collect::<Vec<_>>().leak(),
            lines: NorthLines::Any,
            on_home: false,
            generation: 1,
        }))
    };
    (1..=58).map(skill).collect()
}

fn now() -> Timestamp {
    "2026-03-01T12:00:00Z".parse().expect("a timestamp")
}

fn attempt(session: &NewSession, id: needlewise::store::SessionId, skill: &SkillMeta, n: i64) -> NewAttempt {
    NewAttempt {
        learner: session.learner,
        session: id,
        at: now() + (n * 20).seconds(),
        day: session.day,
        kind: AttemptKind::Practice,
        code: format!("{}-2-{n}-v1", skill.mark),
        skill: skill.id.to_owned(),
        level: Level::TWO,
        generation: 1,
        seed: n.unsigned_abs(),
        facts: r#"{"true_bearing_deg":48.0,"declination_deg":-17.0}"#.to_owned(),
        right: r#"{"bearing":65.0}"#.to_owned(),
        given: r#"{"bearing":"065"}"#.to_owned(),
        verdict: RecordedVerdict::Right,
        exposed: skill.mixups.iter().map(|mixup| mixup.id.to_string()).collect(),
        help: Help::Bare,
        explained: true,
        took_ms: Some(9_000),
        moves: None,
    }
}

/// A program at work: the store, a learner who has met every skill, and what is believed of them.
struct Practice {
    store: Store,
    skills: Vec<&'static SkillMeta>,
    session: NewSession,
    id: needlewise::store::SessionId,
    n: i64,
}

impl Practice {
    fn new(path: &Path) -> Practice {
        let skills = skills();
        let mut store = Store::open(path, &skills).expect("a store");
        let learner = fill::fill_with_answers(&mut store, 1, 5_000).expect("filled")[0];
        Practice::of(store, skills, learner)
    }

    /// Of somebody in a store that is there.
    fn of(mut store: Store, skills: Vec<&'static SkillMeta>, learner: LearnerId) -> Practice {
        let session = NewSession {
            learner,
            at: now(),
            day: date(2026, 3, 1),
            day_given: false,
            drill: None,
            check: None,
            program: "0".to_owned(),
        };
        let id = store.start_session(&session).expect("a session");
        let mut practice = Practice { store, skills, session, id, n: 0 };
        // The first answer of a sitting reads the summaries.
        let first = practice.next();
        practice.store.record(&first).expect("recorded");
        practice
    }

    /// Judged already; commits and folds.
    fn commit(&mut self, attempt: &NewAttempt) {
        let recorded = self.store.record(attempt).expect("recorded");
        assert!(matches!(recorded.beliefs, Believed::Skill(_)));
    }

    /// What so many answers take.
    fn timed(&mut self, times: u64) -> Duration {
        let mut spent = Duration::ZERO;
        for _ in 0..times {
            let attempt = self.next();
            let start = Instant::now();
            self.commit(&attempt);
            spent += start.elapsed();
        }
        spent
    }

    fn next(&mut self) -> NewAttempt {
        self.n += 1;
        attempt(&self.session, self.id, self.skills[self.n as usize % self.skills.len()], self.n)
    }
}

/// The least that could hold the same answer with the same durability: one table, one insert, one commit.
struct Bare {
    conn: Connection,
}

impl Bare {
    fn new(path: &Path) -> Bare {
        let conn = Connection::open(path).expect("a database");
        conn.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(())).expect("wal");
        conn.pragma_update(None, "synchronous", "FULL").expect("full");
        conn.execute_batch(
            "CREATE TABLE attempts (key INTEGER PRIMARY KEY, learner BLOB, session BLOB, at INTEGER, day TEXT, kind TEXT, \
             code TEXT, skill TEXT, level INTEGER, generation INTEGER, seed INTEGER, facts TEXT, right_answer TEXT, \
             given TEXT, verdict TEXT, mixup TEXT, exposed TEXT, hinted INTEGER, explained INTEGER, took_ms INTEGER, \
             moves TEXT)",
        )
        .expect("a table");
        Bare { conn }
    }

    fn insert(&self, attempt: &NewAttempt) {
        self.conn
            .prepare_cached(
                "INSERT INTO attempts (learner, session, at, day, kind, code, skill, level, generation, seed, facts, \
                 right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves) \
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20)",
            )
            .expect("a statement")
            .execute(params![
                [0_u8; 16],
                [0_u8; 16],
                attempt.at.as_millisecond(),
                attempt.day.to_string(),
                attempt.kind.id(),
                attempt.code,
                attempt.skill,
                attempt.level.number(),
                attempt.generation,
                attempt.seed.cast_signed(),
                attempt.facts,
                attempt.right,
                attempt.given,
                if attempt.verdict.is_right() { "right" } else { "unrecognised" },
                attempt.verdict.mixup(),
                attempt.exposed.join(" "),
                attempt.help as i64,
                attempt.explained,
                attempt.took_ms,
                attempt.moves,
            ])
            .expect("inserted");
    }
}

/// Both in turn, so that a slow moment of the disk meets both; medians and the ratio of medians.
fn side_by_side(folder: &Path) {
    const ROUNDS: usize = 3_000;
    let mut practice = Practice::new(&folder.join("side.db"));
    let bare = Bare::new(&folder.join("side-bare.db"));
    let (mut ours, mut theirs) = (Vec::with_capacity(ROUNDS), Vec::with_capacity(ROUNDS));
    for round in 0..ROUNDS {
        let attempt = practice.next();
        for turn in [round, round + 1] {
            let start = Instant::now();
            if turn % 2 == 0 {
                bare.insert(&attempt);
                theirs.push(start.elapsed());
            } else {
                practice.commit(&attempt);
                ours.push(start.elapsed());
            }
        }
    }
    let median = |times: &mut Vec<Duration>| {
        times.sort();
        times[times.len() / 2]
    };
    let mean = |times: &[Duration]| times.iter().sum::<Duration>() / times.len() as u32;
    let (mean_ours, mean_theirs) = (mean(&ours), mean(&theirs));
    let (ours, theirs) = (median(&mut ours), median(&mut theirs));
    println!(
        "side by side, {ROUNDS} each: bare insert {theirs:?}, one answer {ours:?} (medians): {:.3} x the bare rate; \
         means {mean_theirs:?}, {mean_ours:?}: {:.3} x",
        theirs.as_secs_f64() / ours.as_secs_f64(),
        mean_theirs.as_secs_f64() / mean_ours.as_secs_f64()
    );
}

fn commit(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    side_by_side(folder.path());
    let mut group = criterion.benchmark_group("commit");
    let bare = Bare::new(&folder.path().join("bare.db"));
    let mut practice = Practice::new(&folder.path().join("ours.db"));
    let next = practice.next();
    practice.commit(&next);
    group.bench_function("bare insert", |bencher| bencher.iter(|| bare.insert(black_box(&next))));
    group.bench_function("one answer", |bencher| bencher.iter_custom(|times| practice.timed(times)));
    group.finish();
}

fn profile(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("million.db");
    let skills = skills();
    let learner = {
        let mut store = Store::open(&path, &skills).expect("a store");
        let start = Instant::now();
        let ids = fill::fill_with_answers(&mut store, 50, 1_000_000).expect("filled");
        println!("filled with 50 learners and 1,000,000 attempts in {:?}", start.elapsed());
        ids[25]
    };
    println!("{} bytes", std::fs::metadata(&path).expect("the file").len());
    let mut group = criterion.benchmark_group("a million attempts");
    group.bench_function("open the file", |bencher| {
        bencher.iter_batched(|| (), |()| Store::open(&path, &skills).expect("a store"), BatchSize::PerIteration);
    });
    let mut store = Store::open(&path, &skills).expect("a store");
    group.bench_function("read a profile", |bencher| bencher.iter(|| store.beliefs(learner).expect("beliefs")));
    drop(store);
    group.bench_function("open the file and read a profile", |bencher| {
        bencher.iter_batched(
            || (),
            |()| {
                let mut store = Store::open(&path, &skills).expect("a store");
                let beliefs = store.beliefs(learner).expect("beliefs");
                (store, beliefs)
            },
            BatchSize::PerIteration,
        );
    });
    let store = Store::open(&path, &skills).expect("a store");
    let mut practice = Practice::of(store, skills, learner);
    group.bench_function("one answer", |bencher| bencher.iter_custom(|times| practice.timed(times)));
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(30).warm_up_time(Duration::from_secs(1)).measurement_time(Duration::from_secs(4));
    targets = commit, profile
}

fn main() {
    if let Some(path) = std::env::var_os("NEEDLEWISE_FILL") {
        let skills: Vec<_> = needlewise::skills::metas().collect();
        assert!(!skills.is_empty(), "no skills to fill the store with");
        let size = std::env::var("NEEDLEWISE_FILL_WITH").unwrap_or_else(|_| "50x2000".to_owned());
        let (learners, each) = size.split_once('x').expect("learners x attempts of each, such as 200x5000");
        let (learners, each): (u32, u64) = (learners.parse().expect("learners"), each.parse().expect("attempts"));
        let mut store = Store::open(Path::new(&path), &skills).expect("a store");
        fill::fill_with_answers(&mut store, learners, u64::from(learners) * each).expect("filled");
        return;
    }
    benches();
    Criterion::default().configure_from_args().final_summary();
}
