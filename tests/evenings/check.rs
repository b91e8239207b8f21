//! Checks, on real stores: bounds, tries, days, going on after a kill, balance, and who is ready.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

#[path = "check_annulled.rs"]
mod annulled;
#[path = "check_blind.rs"]
mod blind;
#[path = "check_secrets.rs"]
mod secrets;
#[path = "check_two.rs"]
mod two;

use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use needlewise::clerk::{self, Now, Opening};
use needlewise::drill::{Origin, Standard};
use needlewise::learner::Placement;
use needlewise::learner::readiness::{Next, TryEnd};
use needlewise::maptable::{Move, showing};
use needlewise::problem::{Answer, MapPoint, Problem, Question, Value, judge, realise};
use needlewise::session::{Asked, Begin, Check, Readiness, Record, Terms};
use needlewise::skills;
use needlewise::store::{Help, Learner, Store};
use std::collections::HashSet;
use tempfile::TempDir;

/// What a learner of these tests does with a problem.
#[derive(Clone, Copy, PartialEq)]
enum Does {
    Right,
    /// The first mix-up of this id, or something else that is wrong.
    MixUp(&'static str),
    Wrong,
}

/// A store in a folder of its own, and a learner in it.
struct Camp {
    folder: TempDir,
    learner: Learner,
}

fn moment(day: Date) -> Timestamp {
    jiff::tz::TimeZone::UTC.to_timestamp(day.at(18, 0, 0, 0)).unwrap()
}

fn today() -> Date {
    date(2026, 6, 6)
}

impl Camp {
    fn new() -> Camp {
        let folder = tempfile::tempdir().unwrap();
        let learner = open(&folder).add_learner("Ida", Placement::Fresh, moment(today())).unwrap();
        Camp { folder, learner }
    }

    fn store(&self) -> Store {
        open(&self.folder)
    }

    fn record(&self, standard: &Standard) -> Record {
        Record::of(&self.store().checks(self.learner.id).unwrap(), &standard.name)
    }

    fn standing(&self, standard: &Standard, skill: &str, day: Date) -> Readiness {
        let level = standard.skills.iter().find(|one| one.skill.id == skill).unwrap().level;
        self.record(standard).skill(skill, level, day).readiness
    }

    /// Begins a check or goes on with it, as the program does.
    fn sit(&self, standard: &Standard, day: Date) -> Option<(Store, Check)> {
        let mut store = self.store();
        let now = Now { days: needlewise::session::Days::Given(day), at: moment(day) };
        match clerk::open_check(&mut store, self.learner.id, standard, now, 17).unwrap() {
            (_, Opening::Check(mut check)) => {
                // The trial is passed over: here the check's own problems are asked at once.
                assert!(clerk::begin_check(&mut store, &mut check, moment(day)).unwrap());
                Some((store, *check))
            }
            (_, Opening::Later(_)) => None,
        }
    }

    /// Sits a whole check on a day; gives the codes asked.
    fn whole(&self, standard: &Standard, day: Date, does: impl Fn(&Asked) -> Does) -> Vec<String> {
        let Some((mut store, mut check)) = self.sit(standard, day) else { return Vec::new() };
        let mut codes = Vec::new();
        while let Some(asked) = check.next(moment(day)) {
            codes.push(asked.problem.code().to_string());
            let does = does(asked);
            answer(&mut store, &mut check, does, day);
        }
        codes
    }
}

fn open(folder: &TempDir) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    Store::open(&folder.path().join("records.sqlite"), &metas).unwrap()
}

fn texts(problem: &Problem, answer: &Answer) -> Vec<String> {
    let fields = problem.question().fields().iter().zip(answer.values());
    fields.map(|(field, value)| field.typed(*value)).collect()
}

fn answer(store: &mut Store, check: &mut Check, does: Does, day: Date) {
    let asked = check.asked().expect("a problem is asked").clone();
    let problem = &asked.problem;
    let pending = match (&asked.table, does) {
        (Some(table), Does::Right) => {
            let steps = showing(&table.exercise, &table.exercise.start);
            let moves: Vec<Move> = steps.into_iter().flat_map(|step| step.moves).collect();
            check.answer_with_moves(&moves, moment(day))
        }
        // Done at once, with nothing laid anywhere.
        (Some(_), _) => check.answer_with_moves(&[needlewise::maptable::Move::Done], moment(day)),
        (None, does) => {
            let wrong = |id: &str| problem.mixups().iter().find(|mixup| mixup.meta.id.as_str() == id);
            let answer = match does {
                Does::Right => Some(problem.answer()),
                Does::MixUp(id) => wrong(id).map(|mixup| &mixup.answer),
                Does::Wrong => None,
            };
            let texts = match answer {
                Some(answer) => texts(problem, answer),
                // Nobody's mix-up: a number a little off, or another word.
                None => off(problem),
            };
            let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
            check.answer(&texts, moment(day)).unwrap()
        }
    };
    let pending = pending.expect("judged");
    assert!(!pending.attempt.explained && pending.attempt.help == Help::Bare);
    assert!(asked.words.is_empty(), "a check explains no word");
    clerk::record(store, &pending).unwrap();
    check.confirm(&pending);
    assert!(check.asked().is_none(), "nothing of the problem stays on the screen");
}

/// A wrong answer that is no mix-up.
fn off(problem: &Problem) -> Vec<String> {
    if let Question::Choose(fields) = problem.question()
        && let [Value::Choice(right)] = problem.answer().values()
    {
        return vec![fields[0].typed(Value::Choice(usize::from(*right == 0)))];
    }
    let mut texts = texts(problem, problem.answer());
    match problem.answer().values()[0] {
        Value::Angle(angle) => texts[0] = ((angle.degrees().abs() + 41.0) % 360.0).to_string(),
        Value::Number(number) => texts[0] = (number * 1.37 + 41.0).round().to_string(),
        // Far from where it is, and on the map still.
        Value::Point(point) => {
            let beside = |metres: f64| {
                let far = MapPoint { east_m: point.east_m + metres, ..point };
                problem.question().fields()[0].typed(Value::Point(far))
            };
            let on_map = [790.0, -790.0].map(beside).into_iter().find(|text| judge(problem, &[text]).is_ok());
            texts[0] = on_map.expect("a map is larger than that");
        }
        _ => {}
    }
    texts
}

fn standard(text: &str) -> Standard {
    Standard::read(text, Origin::Embedded("test.toml"), skills::metas()).unwrap()
}

/// The default plan on two skills: one a number, one at the map table.
fn two_skills() -> Standard {
    standard(
        "name = \"two\"\ntitle = \"Two\"\ntries = 2\nready = [[9, 9], [12, 13], [16, 18], [16, 19]]\n\
         stop = [[2, 3, 8], [3, 9, 10], [4, 11, 19]]\n[[skill]]\nid = \"true-magnetic\"\nlevel = 3\n\
         [[skill]]\nid = \"oriented-bearing\"\nlevel = 2\n",
    )
}

#[test]
fn nine_right_of_nine_are_ready_and_the_skills_take_turns() {
    let (camp, standard) = (Camp::new(), two_skills());
    assert_eq!(camp.standing(&standard, "true-magnetic", today()), Readiness::NotChecked);
    let codes = camp.whole(&standard, today(), |_| Does::Right);
    assert_eq!(codes.len(), 18);
    let marks: Vec<&str> = codes.iter().map(|code| &code[..2]).collect();
    assert!(marks.windows(2).all(|two| two[0] != two[1]), "{marks:?}");
    assert!(codes.iter().filter(|code| code.starts_with("B2")).all(|code| code.starts_with("B2-3-")), "one level");
    let until = today() + 180.days();
    for skill in ["true-magnetic", "oriented-bearing"] {
        assert_eq!(camp.standing(&standard, skill, until), Readiness::Ready { since: today(), until });
        let after = until + 1.day();
        assert_eq!(camp.standing(&standard, skill, after), Readiness::CheckAgain { since: today() });
    }
    assert!(matches!(camp.record(&standard).begin(&standard, today()), Begin::Later { .. }));
    let Begin::Anew(terms) = camp.record(&standard).begin(&standard, until + 1.day()) else { panic!("a new check") };
    assert_eq!(terms.skills.len(), 2);
}

#[test]
fn a_second_try_is_for_another_day_and_then_it_is_not_yet_for_the_waiting_time() {
    let (camp, standard) = (Camp::new(), two_skills());
    let first = camp.whole(&standard, today(), |_| Does::Wrong);
    assert_eq!(first.len(), 6, "stopped at the third problem of each");
    for skill in ["true-magnetic", "oriented-bearing"] {
        assert_eq!(camp.standing(&standard, skill, today()), Readiness::SecondTry { after: today() });
    }
    // The same day, and a day before it: a clock that was set back brings nothing.
    for day in [today(), today() - 3.days()] {
        assert_eq!(camp.record(&standard).begin(&standard, day), Begin::Later { from: today() + 1.day() });
        assert!(camp.sit(&standard, day).is_none());
    }
    let tomorrow = today() + 1.day();
    let second = camp.whole(&standard, tomorrow, |asked| if asked.table.is_some() { Does::Right } else { Does::Wrong });
    assert_eq!(second.len(), 9 + 3);
    let both: HashSet<&String> = first.iter().chain(&second).collect();
    assert_eq!(both.len(), first.len() + second.len(), "no problem came twice");
    assert!(matches!(camp.standing(&standard, "oriented-bearing", tomorrow), Readiness::Ready { .. }));
    let from = tomorrow + 14.days();
    assert_eq!(camp.standing(&standard, "true-magnetic", tomorrow), Readiness::NotYet { since: tomorrow, from });
    assert_eq!(camp.record(&standard).begin(&standard, from - 1.day()), Begin::Later { from });
    let Begin::Anew(terms) = camp.record(&standard).begin(&standard, from) else { panic!("a new check") };
    assert_eq!(terms.skills.iter().map(|one| one.id.as_str()).collect::<Vec<_>>(), ["true-magnetic"]);
    assert!(
        matches!(camp.standing(&standard, "true-magnetic", from), Readiness::NotYet { .. }),
        "until then it stands"
    );
}

#[test]
fn a_check_that_was_left_goes_on_with_the_problem_that_was_asked() {
    let (camp, standard) = (Camp::new(), two_skills());
    let mut asked_at_the_end = None;
    let mut answered = Vec::new();
    for _ in 0..7 {
        // Each time the program is gone without a word, as after a kill, with a problem on the screen.
        let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
        let code = check.next(moment(today())).unwrap().problem.code().to_string();
        if let Some(before) = asked_at_the_end.take() {
            assert_eq!(code, before);
        }
        answered.push(code);
        answer(&mut store, &mut check, Does::Right, today());
        asked_at_the_end = check.next(moment(today())).map(|asked| asked.problem.code().to_string());
    }
    assert_eq!(camp.store().checks(camp.learner.id).unwrap().len(), 1, "one check all the time");
    let rest = camp.whole(&standard, today() + 2.days(), |_| Does::Right);
    assert_eq!(answered.len() + rest.len(), 18, "a try goes on on another day where it stopped");
    assert!(matches!(camp.standing(&standard, "true-magnetic", today()), Readiness::Ready { .. }));
}

#[test]
fn the_same_critical_mix_up_twice_ends_a_try() {
    let (camp, standard) = (Camp::new(), two_skills());
    let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
    let mut flipped = 0;
    while let Some(asked) = check.next(moment(today())) {
        let number = asked.table.is_none();
        // Right answers in between, so that the count alone would go on.
        let fits = asked.problem.mixups().iter().any(|mixup| mixup.meta.id.as_str() == "sign-flipped");
        let does = if number && fits && check.answered() > 6 && flipped < 2 {
            flipped += 1;
            Does::MixUp("sign-flipped")
        } else {
            Does::Right
        };
        answer(&mut store, &mut check, does, today());
    }
    let end = check.end();
    let line = end.lines.iter().find(|line| line.skill.id == "true-magnetic").unwrap();
    assert_eq!(line.tries[0].end, Some(TryEnd::Critical("sign-flipped".to_owned())));
    assert!(line.tries[0].asked < 9 && line.tries[0].right > 2, "{:?}", line.tries);
    assert_eq!(line.next, Next::AnotherDay(today()));
    assert!(line.critical().unwrap().starts_with("Twice you applied the correction the wrong way round."));
    assert_eq!(line.missed.len(), 2);
    for missed in &line.missed {
        assert!(missed.told.headline.contains("the wrong way round"), "{}", missed.told.headline);
        assert!(!missed.told.steps.is_empty());
    }
    let other = end.lines.iter().find(|line| line.skill.id == "oriented-bearing").unwrap();
    assert!(matches!(other.next, Next::Ready(_)) && other.missed.is_empty());
}

#[test]
fn wrong_work_at_the_table_is_explained_again_from_the_stored_moves() {
    let (camp, standard) = (Camp::new(), two_skills());
    camp.whole(&standard, today(), |_| Does::Wrong);
    let store = camp.store();
    let id = store.checks(camp.learner.id).unwrap()[0].id;
    let attempts = store.attempts_of_check(id).unwrap();
    let at_table: Vec<_> = attempts.iter().filter(|attempt| attempt.what.moves.is_some()).collect();
    assert_eq!(at_table.len(), 3);
    for attempt in at_table {
        let missed = needlewise::session::Missed::of(&attempt.what).unwrap();
        let table = missed.told.table.expect("work at the table");
        assert!(!table.lines.is_empty() && table.needs_showing, "{table:?}");
    }
}

#[test]
fn a_check_keeps_the_rules_it_began_under() {
    let (camp, standard) = (Camp::new(), two_skills());
    {
        let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
        check.next(moment(today())).unwrap();
        answer(&mut store, &mut check, Does::Right, today());
    }
    // The file now asks for one skill at another level, with a single short try.
    let changed = self::standard(
        "name = \"two\"\ntitle = \"Two\"\nalpha = 0.2\nbeta = 0.2\ncap = 12\n[[skill]]\nid = \"true-magnetic\"\nlevel = 1\n",
    );
    let (_, check) = camp.sit(&changed, today()).unwrap();
    assert_eq!(check.terms(), &Terms { seed: 17, ..Terms::of(&standard, |_| true) });
    assert!(!check.terms().agree_with(&changed), "and the screen can say so");
    assert_eq!(camp.whole(&changed, today(), |_| Does::Right).len(), 17);
}

#[test]
fn a_try_is_balanced_over_quarters_wrapping_east_and_west() {
    let standard = standard(
        "name = \"long\"\ntitle = \"Long\"\np0 = 0.6\np1 = 0.9\nready = [[20, 20]]\nstop = [[1, 20, 20]]\n\
         [[skill]]\nid = \"true-magnetic\"\nlevel = 3\n[[skill]]\nid = \"orient-true-line\"\nlevel = 2\n",
    );
    let camp = Camp::new();
    let codes = camp.whole(&standard, today(), |_| Does::Right);
    assert_eq!(codes.len(), 40);
    for mark in ["B2", "D2"] {
        let problems: Vec<Problem> = codes
            .iter()
            .filter(|code| code.starts_with(mark))
            .map(|code| realise(&skills::read_code(code).unwrap()).unwrap())
            .collect();
        let declination = |problem: &Problem| problem.facts().declination().expect("a declination").angle().degrees();
        assert!(problems.iter().all(|problem| declination(problem).abs() >= 8.0), "{mark}: |D| shows");
        let east = problems.iter().filter(|problem| declination(problem) > 0.0).count();
        assert!((8..=12).contains(&east), "{mark}: {east} of 20 east");
        let tables = problems.iter().filter(|p| matches!(p.question(), Question::Table(_))).count();
        if mark == "D2" {
            assert!((8..=12).contains(&tables), "{tables} of 20 by hand");
            continue;
        }
        let mut quarters = [0; 4];
        for problem in &problems {
            let Value::Angle(angle) = problem.answer().values()[0] else { panic!("a bearing") };
            quarters[(angle.wrapped().degrees() / 90.0) as usize] += 1;
        }
        assert!(quarters.iter().all(|count| (3..=7).contains(count)), "{quarters:?}");
        let wraps = problems
            .iter()
            .filter(|problem| problem.mixups().iter().any(|mixup| mixup.meta.id.as_str() == "not-wrapped"))
            .count();
        assert!((6..=14).contains(&wraps), "{wraps} of 20 pass north");
    }
}

#[test]
fn the_minutes_are_told_before_and_grow_less() {
    let (camp, standard) = (Camp::new(), two_skills());
    let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
    let before = check.minutes_left();
    assert!((10..40).contains(&before), "{before}");
    assert_eq!(check.skills_left(), (2, 2));
    for _ in 0..3 {
        while check.next(moment(today())).is_some_and(|asked| asked.table.is_some()) {
            answer(&mut store, &mut check, Does::Right, today());
        }
        answer(&mut store, &mut check, Does::Wrong, today());
    }
    assert_eq!(check.skills_left(), (1, 2));
    assert!(check.minutes_left() < before);
}

#[test]
fn what_was_asked_at_another_level_says_nothing_about_this_one() {
    let at_level = |level: u8| {
        standard(&format!(
            "name = \"one\"\ntitle = \"One\"\nalpha = 0.1\nbeta = 0.1\ncap = 15\n[[skill]]\nid = \"turns\"\nlevel = {level}\n"
        ))
    };
    let camp = Camp::new();
    camp.whole(&at_level(1), today(), |_| Does::Right);
    assert!(matches!(camp.standing(&at_level(1), "turns", today()), Readiness::Ready { .. }));
    assert_eq!(camp.standing(&at_level(3), "turns", today()), Readiness::NotChecked);
    let Begin::Anew(terms) = camp.record(&at_level(3)).begin(&at_level(3), today()) else { panic!("a new check") };
    assert_eq!(terms.skills[0].level, 3);
}

#[test]
fn a_second_window_that_does_not_know_of_the_end_cannot_undo_it() {
    let standard = standard(
        "name = \"one\"\ntitle = \"One\"\ntries = 2\nready = [[3, 3], [4, 5]]\nstop = [[2, 3, 5]]\n[[skill]]\nid = \"turns\"\nlevel = 2\n",
    );
    let camp = Camp::new();
    let (mut store, mut stale) = camp.sit(&standard, today()).unwrap();
    stale.next(moment(today())).unwrap();
    camp.whole(&standard, today(), |_| Does::Right);
    assert!(matches!(camp.standing(&standard, "turns", today()), Readiness::Ready { .. }));
    for _ in 0..3 {
        answer(&mut store, &mut stale, Does::Wrong, today());
        if stale.next(moment(today())).is_none() {
            break;
        }
    }
    assert!(matches!(camp.standing(&standard, "turns", today()), Readiness::Ready { .. }), "ready stays ready");
    assert_eq!(camp.record(&standard).checks.len(), 1);
}

#[test]
fn a_check_that_cannot_be_read_is_told_of_and_never_taken_for_none() {
    let (camp, standard) = (Camp::new(), two_skills());
    let new = needlewise::store::NewCheck {
        learner: camp.learner.id,
        at: moment(today()),
        day: today(),
        standard: standard.name.clone(),
        rules: "of a later program".to_owned(),
    };
    camp.store().start_check(&new, 0).unwrap().unwrap();
    assert_eq!((camp.record(&standard).unreadable, camp.record(&standard).begun_before()), (1, 1));
    let report = needlewise::report::Report::gather(&mut camp.store(), &standard, (today(), true), &|_| true).unwrap();
    let cautions = report.members[0].cautions(today());
    assert!(cautions[0].starts_with("Checks that this program cannot read"), "{cautions:?}");
    assert!(camp.sit(&standard, today()).is_some(), "and a new one can be begun beside it");
}

#[test]
fn a_sitting_over_midnight_writes_each_answers_own_day_and_begins_no_second_try() {
    let (camp, standard) = (Camp::new(), secrets::one_skill());
    let mut store = camp.store();
    let mut at = moment(today()) + jiff::SignedDuration::from_mins(359) + jiff::SignedDuration::from_secs(50);
    let now = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at };
    let Opening::Check(mut check) = clerk::open_check(&mut store, camp.learner.id, &standard, now, 17).unwrap().1
    else {
        panic!("a check begins");
    };
    let mut days = Vec::new();
    while let Some(asked) = check.next(at) {
        let texts = off(&asked.problem);
        let pending = check.answer(&texts.iter().map(String::as_str).collect::<Vec<_>>(), at).unwrap().expect("judged");
        days.push(pending.attempt.day);
        clerk::record(&mut store, &pending).unwrap();
        check.confirm(&pending);
        at += jiff::SignedDuration::from_secs(8);
    }
    assert_eq!(days, [today(), today(), today() + 1.day()], "three wrong answers end a try, and no other begins");
    assert!(camp.sit(&standard, today() + 1.day()).is_none(), "the try ended on the second day");
    assert!(camp.sit(&standard, today() + 2.days()).is_some());
}
