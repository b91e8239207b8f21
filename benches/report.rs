//! What the patrol's page costs: 200 learners, every skill, 100,000 attempts, and a check of each learner.

use criterion::{Criterion, criterion_group, criterion_main};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use needlewise::clerk::{self, Now, Opening};
use needlewise::drill::Standard;
use needlewise::report::Report;
use needlewise::skills;
use needlewise::store::{Store, fill};
use std::hint::black_box;

const DAY: Date = date(2026, 6, 6);

fn now() -> Timestamp {
    "2026-06-06T18:00:00Z".parse().expect("a timestamp")
}

/// A store like that of a large group after some years.
fn store(folder: &std::path::Path) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&folder.join("records.sqlite"), &metas).expect("a store");
    let learners = fill::fill_with_answers(&mut store, 200, 100_000).expect("filled");
    let standard = Standard::find("camp-evening", None).expect("a standard");
    for (number, learner) in learners.into_iter().enumerate() {
        let at = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at: now() };
        let Ok((_, Opening::Check(mut check))) = clerk::open_check(&mut store, learner, &standard, at, number as u64)
        else {
            continue;
        };
        clerk::begin_check(&mut store, &mut check, now()).expect("begun");
        // Every problem of number questions and of the table alike is answered by doing nothing, or by a number.
        while let Some(asked) = check.next(now()) {
            let fields = asked.problem.question().fields().len();
            let pending = match &asked.table {
                Some(_) => check.answer_with_moves(&[needlewise::maptable::Move::Done], now()),
                None => check.answer(&vec!["1"; fields], now()).ok().flatten(),
            };
            let Some(pending) = pending else { break };
            clerk::record(&mut store, &pending).expect("recorded");
            check.confirm(&pending);
        }
    }
    store
}

fn report(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut store = store(folder.path());
    let mut group = criterion.benchmark_group("patrol");
    group.sample_size(20);
    for name in ["day-outing", "camp-evening"] {
        let standard = Standard::find(name, None).expect("a standard");
        group.bench_function(format!("{name}, 200 learners, 100,000 attempts"), |bencher| {
            bencher
                .iter(|| black_box(Report::gather(&mut store, &standard, (DAY, false), &|_| true).expect("a report")));
        });
    }
    group.finish();
}

criterion_group!(benches, report);
criterion_main!(benches);
