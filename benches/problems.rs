//! Problems a second, with full worked text; judging; the learner model; a drawn figure in terminal cells.
//!
//! Goals: at least 300,000 full problems a second on one core for the arithmetic skills.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use needlewise::learner::{Beliefs, Evidence, Outcome, Placement, Recent, Selection, choose};
use needlewise::maptable::{Move, Pose, Way};
use needlewise::problem::{Code, Level, Problem, judge, realise};
use needlewise::scene::cells::{CellCanvas, Charset};
use needlewise::skills::{self, SKILLS};
use std::hint::black_box;

/// Texts are made when they are first asked for, so they are asked for.
fn with_full_text(code: &Code) -> Problem {
    let problem = realise(code).unwrap();
    black_box((problem.prompt(), problem.facts(), problem.steps()));
    problem
}

fn problems(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("problem with full text");
    group.throughput(Throughput::Elements(4));
    for skill in SKILLS {
        let mut seed = 0;
        group.bench_function(skill.meta().id, |bencher| {
            bencher.iter(|| {
                seed += 1;
                for level in Level::ALL {
                    let code = Code { skill: *skill, level, seed, home: None };
                    black_box(with_full_text(black_box(&code)));
                }
            });
        });
    }
    group.finish();
}

fn table(criterion: &mut Criterion) {
    let skill = skills::find("baseplate-bearing").unwrap();
    let code = Code { skill, level: Level::TWO, seed: 7, home: None };
    let table = realise(&code).unwrap().table().unwrap();
    let lines = &table.exercise.lines;
    let laid = Move::Edge(lines.all().last().unwrap().name, Way::Ahead);
    let now = table.exercise.start.after(laid, lines).unwrap();
    for (cols, rows) in [(55, 15), (61, 28)] {
        criterion.bench_function(&format!("map table: both looks, the map in {cols}x{rows} cells"), |bencher| {
            bencher.iter(|| {
                let (width, height) = (f64::from(cols) * 2.0, f64::from(rows) * 4.0);
                let canvas = CellCanvas::new(Charset::Braille);
                table.picture(&Pose::at_rest(black_box(now), table.exercise.needle()), false, |picture| {
                    let map = canvas.render(&picture.map_look(width, height, 4.0), cols, rows);
                    (map, canvas.render(&picture.compass_look(height, height, 4.0), rows * 2, rows))
                })
            });
        });
    }
    criterion.bench_function("problem at the table, with its map", |bencher| {
        let mut seed = 0;
        bencher.iter(|| {
            seed += 1;
            let problem = with_full_text(&Code { seed, ..code });
            (problem.table(), problem)
        });
    });
}

fn judging(criterion: &mut Criterion) {
    let code = skills::read_code("B2-2-362035-v2").unwrap();
    let problem = realise(&code).unwrap();
    criterion
        .bench_function("judge an answer", |bencher| bencher.iter(|| judge(black_box(&problem), &["178"]).unwrap()));
}

fn learner(criterion: &mut Criterion) {
    let metas: Vec<_> = skills::metas().collect();
    let day = jiff::civil::date(2026, 11, 25);
    let mut beliefs = Beliefs::new(&metas, Placement::Fresh);
    let selection = Selection::of(metas.iter().map(|meta| meta.id));
    let recent = Recent::default();
    criterion.bench_function("choose the next problem", |bencher| {
        bencher.iter(|| choose(black_box(&beliefs), &selection, day, &recent).unwrap());
    });
    let exposed = ["sign-flipped", "not-applied", "applied-twice"];
    let evidence = Evidence {
        skill: "true-magnetic",
        level: Level::TWO,
        day,
        outcome: Outcome::Mixup("sign-flipped"),
        exposed: &exposed,
        hinted: false,
        explained: true,
        at: jiff::Timestamp::UNIX_EPOCH,
    };
    criterion.bench_function("observe an answer", |bencher| bencher.iter(|| beliefs.observe(black_box(&evidence))));
}

fn figures(criterion: &mut Criterion) {
    let figure = realise(&skills::read_code("A5-3-792466-v3").unwrap()).unwrap().figure();
    let canvas = CellCanvas::new(Charset::Braille);
    criterion.bench_function("dial in 46x20 cells", |bencher| {
        bencher.iter(|| canvas.render(&black_box(&figure).scene(92.0, 80.0).unwrap(), 46, 20));
    });
    criterion.bench_function("dial in 100x30 cells", |bencher| {
        bencher.iter(|| canvas.render(&black_box(&figure).scene(200.0, 120.0).unwrap(), 100, 30));
    });
}

criterion_group!(benches, problems, table, judging, learner, figures);
criterion_main!(benches);
