//! A leader's word about a check: an answer annulled, a wait shortened. Both are kept, told and carried everywhere.

use super::secrets::one_skill;
use super::{Camp, Does, answer, moment, open, today, two_skills};
use jiff::ToSpan;
use jiff::civil::Date;
use needlewise::clerk::{self, Now};
use needlewise::drill::Standard;
use needlewise::problem::judge;
use needlewise::session::{Begin, Check, Days, Readiness, Record};
use needlewise::store::{Store, StoreError};

const SLIP: &str = "the key was hit by accident";

fn now(day: Date) -> Now {
    Now { days: Days::Given(day), at: moment(day) }
}

/// Answers of a try, one after the other, and leaves.
fn sits(camp: &Camp, standard: &Standard, answers: &[Does]) -> (Store, Check) {
    let (mut store, mut check) = camp.sit(standard, today()).expect("something to ask");
    for does in answers {
        check.next(moment(today())).expect("a problem");
        answer(&mut store, &mut check, *does, today());
    }
    (store, check)
}

/// Annuls one of the answers of tries under way: 0 is the last.
fn annul(camp: &Camp, at: usize) {
    let mut store = camp.store();
    let lost = clerk::lost_answers(&store, camp.learner.id).unwrap().swap_remove(at);
    clerk::annul(&mut store, camp.learner.id, lost.attempt, SLIP, &now(today())).unwrap();
}

fn tries(record: &Record) -> Vec<(u8, u8, u8)> {
    let all = record.checks.iter().flat_map(|check| &check.progress).flat_map(|progress| progress.tries());
    all.map(|one| (one.asked, one.right, one.annulled)).collect()
}

#[test]
fn an_annulled_answer_counts_nowhere_and_a_fresh_problem_takes_its_place() {
    let (camp, standard) = (Camp::new(), one_skill());
    sits(&camp, &standard, &[Does::Right, Does::MixUp("sign-flipped")]);
    let fresh = Camp::new();
    let before = clerk::learner(&mut fresh.store(), fresh.learner.id).unwrap().1;
    let codes = |store: &Store| -> Vec<String> {
        let check = store.checks(camp.learner.id).unwrap().remove(0).id;
        store.attempts_of_check(check).unwrap().into_iter().map(|attempt| attempt.what.code).collect()
    };
    let all = codes(&camp.store());
    annul(&camp, 0);
    assert_eq!(codes(&camp.store()), all[..1], "it stays in the file and counts for nothing");
    assert_eq!(camp.store().export_csv_text().lines().count(), 3, "two answers and the header");
    assert_eq!(tries(&camp.record(&standard)), [(1, 1, 1)]);
    // Eight more are nine of nine: the fresh one is asked, of the same skill and level, and is none of those before.
    let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
    let mut asked = Vec::new();
    while let Some(one) = check.next(moment(today())) {
        let code = one.problem.code();
        assert_eq!((code.meta().id, code.level.number()), ("true-magnetic", 3));
        asked.push(code.to_string());
        answer(&mut store, &mut check, Does::Right, today());
    }
    assert_eq!(asked.len(), 8);
    assert!(asked.iter().all(|code| !all.contains(code)), "{asked:?} and before {all:?}");
    assert_eq!(tries(&camp.record(&standard)), [(9, 9, 1)]);
    assert!(matches!(camp.standing(&standard, "true-magnetic", today()), Readiness::Ready { .. }));
    // The mix-up was no evidence of a weak spot either.
    let beliefs = clerk::learner(&mut camp.store(), camp.learner.id).unwrap().1;
    assert_eq!(beliefs.skill("true-magnetic").unwrap().count(), 9);
    assert!(beliefs.weak_spots().is_empty() && before.weak_spots().is_empty());
    assert_eq!(camp.store().verify().unwrap().differences, []);
}

/// What is asked next is the problem that was on the screen when the leader came, where it is of another skill.
#[test]
fn annulling_gets_nobody_another_problem_than_the_one_on_the_screen() {
    let (camp, standard) = (Camp::new(), one_skill());
    let (_, mut check) = sits(&camp, &standard, &[Does::Right, Does::Wrong]);
    let on_screen = check.next(moment(today())).unwrap().problem.code().to_string();
    annul(&camp, 0);
    let (_, mut again) = camp.sit(&standard, today()).unwrap();
    assert_eq!(again.next(moment(today())).unwrap().problem.code().to_string(), on_screen);
}

#[test]
fn of_two_open_answers_each_is_offered_the_newest_first_and_never_what_it_was() {
    let (camp, standard) = (Camp::new(), two_skills());
    assert_eq!(clerk::lost_answers(&camp.store(), camp.learner.id).unwrap(), []);
    sits(&camp, &standard, &[Does::Right; 7]);
    let offered = clerk::lost_answers(&camp.store(), camp.learner.id).unwrap();
    let skills: Vec<&str> = offered.iter().map(|one| one.skill.id).collect();
    assert_eq!(skills, ["true-magnetic", "oriented-bearing", "true-magnetic", "oriented-bearing", "true-magnetic"]);
    assert!(offered.windows(2).all(|two| two[0].attempt > two[1].attempt));
}

#[test]
fn an_answer_whose_try_has_ended_cannot_be_annulled_since_its_result_is_known() {
    let (camp, standard) = (Camp::new(), one_skill());
    sits(&camp, &standard, &[Does::Wrong; 2]);
    let open = clerk::lost_answers(&camp.store(), camp.learner.id).unwrap();
    assert_eq!(open.len(), 2);
    sits(&camp, &standard, &[Does::Wrong]);
    assert_eq!(clerk::lost_answers(&camp.store(), camp.learner.id).unwrap(), []);
    let mut store = camp.store();
    for one in &open {
        let refused = clerk::annul(&mut store, camp.learner.id, one.attempt, SLIP, &now(today()));
        assert!(matches!(refused, Err(StoreError::NotAnnulled)), "{refused:?}");
        assert!(refused.unwrap_err().to_string().contains("its try has ended"));
    }
    assert_eq!(tries(&camp.record(&standard)), [(3, 0, 0)]);
    // Nor twice.
    let (camp, standard) = (Camp::new(), one_skill());
    sits(&camp, &standard, &[Does::Right; 2]);
    let lost = clerk::lost_answers(&camp.store(), camp.learner.id).unwrap()[0].attempt;
    annul(&camp, 0);
    let again = camp.store().annul(camp.learner.id, lost, SLIP, today(), moment(today()));
    assert!(matches!(again, Err(StoreError::NotAnnulled)), "{again:?}");
}

/// A mark that comes too late, as from another laptop that did not know of the end: what was decided stays.
#[test]
fn an_answer_annulled_after_the_end_by_another_program_changes_no_result() {
    let (camp, standard) = (Camp::new(), one_skill());
    sits(&camp, &standard, &[Does::Wrong; 2]);
    let lost = clerk::lost_answers(&camp.store(), camp.learner.id).unwrap()[0].attempt;
    sits(&camp, &standard, &[Does::Wrong]);
    camp.store().annul(camp.learner.id, lost, SLIP, today(), moment(today())).unwrap();
    assert_eq!(tries(&camp.record(&standard)), [(3, 0, 0)]);
    assert_eq!(camp.standing(&standard, "true-magnetic", today()), Readiness::SecondTry { after: today() });
    let (report, told) = camp.told(&standard);
    assert_eq!(report.members[0].cells[0].changes.alpha, None);
    assert!(!told.contains("annulled on"), "{told}");
}

#[test]
fn annulling_alone_tells_nothing_not_even_by_the_end_of_the_try() {
    let (camp, standard) = (Camp::new(), one_skill());
    let mut answers = [Does::Right; 10];
    answers[5] = Does::Wrong;
    sits(&camp, &standard, &answers);
    // The fifth from the end: without it there are nine of nine.
    annul(&camp, 4);
    assert_eq!(camp.standing(&standard, "true-magnetic", today()), Readiness::UnderWay { since: today() });
    let (_, told) = camp.told(&standard);
    assert!(!told.contains("right of") && told.contains("under way since 2026-06-06; the key was hit"), "{told}");
    sits(&camp, &standard, &[Does::Right]);
    assert!(matches!(camp.standing(&standard, "true-magnetic", today()), Readiness::Ready { .. }));
    assert_eq!(tries(&camp.record(&standard)), [(9, 9, 1)]);
}

#[test]
fn every_report_gives_the_reason_and_says_that_the_error_no_longer_holds() {
    let (camp, standard) = (Camp::new(), one_skill());
    let plan = &standard.rules.plan;
    assert!(!camp.told(&standard).1.contains("no longer holds"));
    for (try_, expected) in [(0, plan.alpha_with_annulled(&[1])), (1, plan.alpha_with_annulled(&[1, 1]))] {
        let day = today() + i64::from(try_).days();
        let (mut store, mut check) = camp.sit(&standard, day).unwrap();
        for does in [Does::Wrong, Does::Wrong] {
            check.next(moment(day)).unwrap();
            answer(&mut store, &mut check, does, day);
        }
        let lost = clerk::lost_answers(&store, camp.learner.id).unwrap()[0].attempt;
        clerk::annul(&mut store, camp.learner.id, lost, SLIP, &now(day)).unwrap();
        let (report, told) = camp.told(&standard);
        let cell = &report.members[0].cells[0];
        assert!((cell.changes.alpha.unwrap() - expected).abs() < 1e-12);
        assert!((report.wrong_ready_at_most - expected).abs() < 1e-12, "all decisions together are as unsure");
        assert!(told.contains(&format!("{SLIP}, so an answer was annulled on {day}, by the leader's word")), "{told}");
        // Two wrong ones end it: the annulled one is none of them.
        for does in [Does::Wrong, Does::Wrong] {
            check = camp.sit(&standard, day).unwrap().1;
            check.next(moment(day)).unwrap();
            answer(&mut store, &mut check, does, day);
        }
        let end = check.end().remarks().join(" ");
        assert!(end.contains(&format!("The key was hit by accident, so an answer was annulled on {day}")), "{end}");
        assert!(end.contains("no longer holds for this check"), "{end}");
    }
    let (report, told) = camp.told(&standard);
    let luck = "of those who answer 60 in 100 right, up to 14.7 in 100 are found ready by luck, not 5.0";
    assert!(told.contains(luck), "{told}");
    assert!(told.contains(r#""alpha_as_it_went":0.147"#), "{told}");
    assert!(
        told.contains(r#""annulled":[{"day":"2026-06-06","reason":"the key was hit by accident"},{"day""#),
        "{told}"
    );
    let csv = needlewise::report::csv(&report, &|name| name.to_owned()).unwrap();
    assert!(csv.lines().next().unwrap().ends_with(",annulled,wait_shortened,alpha_as_it_went,wrong_without_pattern"));
    assert!(
        csv.contains(",the key was hit by accident (2026-06-06); the key was hit by accident (2026-06-07),,0.1471")
    );
}

#[test]
fn what_was_annulled_or_shortened_survives_a_backup_a_merge_and_an_export() {
    let (camp, standard) = (Camp::new(), one_skill());
    let file = |name: &str| camp.folder.path().join(name);
    sits(&camp, &standard, &[Does::Wrong; 2]);
    // The other laptop has the check as it stands, and answers nothing.
    camp.store().backup(&file("before"), false).unwrap();
    annul(&camp, 0);
    camp.whole(&standard, today(), |_| Does::Wrong);
    camp.whole(&standard, today() + 1.day(), |_| Does::Wrong);
    shorten(&camp, &standard, today() + 1.day(), today() + 3.days());
    let told = camp.told(&standard).1;
    assert!(
        told.contains("annulled on 2026-06-06") && told.contains("ends on 2026-06-09, not on 2026-06-21"),
        "{told}"
    );
    camp.store().backup(&file("after"), false).unwrap();
    let mut lines = Vec::new();
    camp.store().export(None, &mut lines).unwrap();
    let metas: Vec<_> = needlewise::skills::metas().collect();
    let told_in = |store: &mut Store| {
        let report = needlewise::report::Report::gather(store, &standard, (today(), false), &|_| true).unwrap();
        let cell = report.members[0].cells[0].clone();
        assert_eq!(store.verify().unwrap().differences, []);
        (cell.changes, cell.readiness, cell.tries)
    };
    let wanted = told_in(&mut camp.store());
    assert_eq!((wanted.0.annulled.len(), wanted.0.waits.len()), (1, 1));
    let mut kept = Store::open(&file("after"), &metas).unwrap();
    assert_eq!(told_in(&mut kept), wanted, "a backup");
    for from in ["after", "lines.jsonl"] {
        for into in ["before", "nowhere"] {
            let other = file(&format!("{into} with {from}"));
            if into == "before" {
                std::fs::copy(file("before"), &other).unwrap();
            }
            let mut other = Store::open(&other, &metas).unwrap();
            let incoming = match from {
                "lines.jsonl" => other.incoming_lines(&mut lines.as_slice(), &file(from)).unwrap(),
                _ => other.incoming(&file(from)).unwrap(),
            };
            assert!(other.bring_in(&incoming, &[], moment(today()), true).unwrap().marks >= 2);
            assert_eq!(told_in(&mut other), wanted, "{from} into {into}");
        }
    }
}

/// Shortens all waits of the standard, as the leader's page does.
fn shorten(camp: &Camp, standard: &Standard, on: Date, from: Date) {
    let mut store = camp.store();
    let waits = clerk::waits(&store, camp.learner.id, standard, on).unwrap();
    assert!(waits.iter().all(|wait| wait.can_end_on(from)), "{waits:?}");
    let which: Vec<_> = waits.iter().map(|wait| (wait.check, wait.skill.id)).collect();
    store.shorten_wait(&which, from, "a hike comes before that", moment(on)).unwrap();
}

#[test]
fn a_shortened_wait_lets_a_new_check_begin_and_decide_and_is_told() {
    let (camp, standard) = (Camp::new(), one_skill());
    let second = today() + 1.day();
    camp.whole(&standard, today(), |_| Does::Wrong);
    assert_eq!(clerk::waits(&camp.store(), camp.learner.id, &standard, today()).unwrap(), []);
    camp.whole(&standard, second, |_| Does::Wrong);
    let regular = second + 14.days();
    let not_yet = |from| Readiness::NotYet { since: second, from };
    assert_eq!(camp.standing(&standard, "true-magnetic", second), not_yet(regular));
    let waits = clerk::waits(&camp.store(), camp.learner.id, &standard, second).unwrap();
    assert_eq!((waits.len(), waits[0].since, waits[0].from), (1, second, regular));
    assert!(!waits[0].can_end_on(second), "never on the day of the last try");
    assert!(waits[0].can_end_on(second + 1.day()) && !waits[0].can_end_on(regular));
    let soon = second + 3.days();
    shorten(&camp, &standard, second, soon);
    assert_eq!(camp.standing(&standard, "true-magnetic", second), not_yet(soon));
    assert!(matches!(camp.record(&standard).begin(&standard, soon - 1.day()), Begin::Later { from } if from == soon));
    let plan = &standard.rules.plan;
    let both = 1.0 - (1.0 - plan.alpha()).powi(2);
    let words = "a hike comes before that, so the wait after 2026-06-07 ends on 2026-06-10, not on 2026-06-21, by the leader's word";
    let told_both = |camp: &Camp| {
        let (report, told) = camp.told(&standard);
        assert!(told.contains(words) && told.contains("two checks so close together"), "{told}");
        assert!((report.members[0].cells[0].changes.alpha.unwrap() - both).abs() < 1e-12);
        assert!(told.contains(r#""wait_shortened":[{"since":"2026-06-07","from":"2026-06-10","regular":"2026-06-21""#));
        assert!(told.contains("a hike comes before that (from 2026-06-10, not 2026-06-21)"), "{told}");
    };
    told_both(&camp);
    assert!(matches!(camp.record(&standard).begin(&standard, soon), Begin::Anew(_)));
    camp.whole(&standard, soon, |_| Does::Right);
    // The new check decides, though it began within the standard's own waiting time, and what it rests on stays told.
    assert!(matches!(camp.standing(&standard, "true-magnetic", soon), Readiness::Ready { since, .. } if since == soon));
    assert_eq!(camp.record(&standard).begun_beside(), Vec::<Date>::new());
    told_both(&camp);
}

#[test]
fn a_shortened_wait_that_was_sat_out_all_the_same_changes_nothing() {
    let (camp, standard) = (Camp::new(), one_skill());
    let second = today() + 1.day();
    camp.whole(&standard, today(), |_| Does::Wrong);
    camp.whole(&standard, second, |_| Does::Wrong);
    shorten(&camp, &standard, second, second + 3.days());
    camp.whole(&standard, second + 20.days(), |_| Does::Right);
    let (report, told) = camp.told(&standard);
    assert_eq!(report.members[0].cells[0].changes.alpha, None);
    assert!(!told.contains("no longer holds"), "{told}");
}

#[test]
fn one_skill_of_several_can_be_shortened_alone() {
    let (camp, standard) = (Camp::new(), two_skills());
    let second = today() + 1.day();
    camp.whole(&standard, today(), |_| Does::Wrong);
    camp.whole(&standard, second, |_| Does::Wrong);
    let mut store = camp.store();
    let waits = clerk::waits(&store, camp.learner.id, &standard, second).unwrap();
    assert_eq!(waits.len(), 2);
    let soon = second + 2.days();
    store.shorten_wait(&[(waits[0].check, waits[0].skill.id)], soon, "ill", moment(second)).unwrap();
    let Begin::Anew(terms) = camp.record(&standard).begin(&standard, soon) else { panic!("a new check") };
    assert_eq!(terms.skills.iter().map(|one| one.id.as_str()).collect::<Vec<_>>(), [waits[0].skill.id]);
}

/// The answers as a table.
trait CsvText {
    fn export_csv_text(self) -> String;
}

impl CsvText for Store {
    fn export_csv_text(mut self) -> String {
        let mut out = Vec::new();
        self.export_csv(None, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }
}

#[test]
fn a_check_has_one_trial_before_its_first_problem_at_the_table_and_nothing_of_it_is_kept() {
    let (camp, standard) = (Camp::new(), two_skills());
    let (mut store, mut check) = camp.sit(&standard, today()).unwrap();
    let mut trials = 0;
    for answered in 0..8_u32 {
        let asked = check.next(moment(today())).unwrap().clone();
        let trial = check.trial().cloned();
        assert_eq!(trial.is_some(), asked.table.is_some() && trials == 0, "before the first at the table");
        if let Some(trial) = trial {
            trials += 1;
            let (code, real) = (trial.problem.code(), asked.problem.code());
            assert!(trial.table.is_some() && trial.number == 0);
            assert_eq!((code.meta().id, code.level), (real.meta().id, real.level));
            assert_ne!(trial.problem.facts(), asked.problem.facts(), "another one than the one that counts");
            // Left without an answer it comes again; over, it does not.
            let (_, mut again) = camp.sit(&standard, today()).unwrap();
            again.next(moment(today()));
            assert_eq!(again.trial().unwrap().problem.code(), code);
            assert_eq!(again.asked().unwrap().problem.code(), real);
            check.trial_over(moment(today()));
            assert!(check.trial().is_none());
            assert_eq!(check.asked().unwrap().problem.code(), real, "the check's problem waited behind it");
        }
        answer(&mut store, &mut check, Does::Right, today());
        assert_eq!(check.answered(), answered + 1);
    }
    assert_eq!(trials, 1);
    let (_, mut again) = camp.sit(&standard, today()).unwrap();
    while again.next(moment(today())).is_some_and(|asked| asked.table.is_none()) {
        answer(&mut store, &mut again, Does::Right, today());
    }
    assert!(again.trial().is_none(), "once a check");
    let count = open(&camp.folder).export_csv_text().lines().count() - 1;
    assert!((8..=9).contains(&count), "{count} answers: none of a trial");
}

#[test]
fn during_a_trial_nothing_is_judged() {
    use needlewise::maptable::Move;
    use needlewise::session::Flow;
    let (camp, standard) = (Camp::new(), two_skills());
    let (_, check) = camp.sit(&standard, today()).unwrap();
    let mut flow = Flow::Check(Box::new(check));
    let mut store = camp.store();
    while flow.next(moment(today())).is_some() && !flow.is_trial() {
        let asked = flow.asked().unwrap().problem.clone();
        let texts = super::texts(&asked, asked.answer());
        let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
        assert!(judge(&asked, &texts).is_ok());
        let pending = flow.answer(&texts, moment(today())).unwrap().unwrap();
        let stored = clerk::record(&mut store, &pending).unwrap();
        flow.confirm(pending, stored);
    }
    assert!(flow.is_trial());
    assert!(flow.answer_with_moves(&[Move::Done], moment(today())).is_none());
    assert!(flow.answer(&["65"], moment(today())).unwrap().is_none());
    assert_eq!(flow.how_far(), "a trial: it does not count");
    flow.trial_over(moment(today()) + 1.minute());
    let pending = flow.answer_with_moves(&[Move::Done], moment(today()) + 2.minutes()).expect("now it counts");
    assert_eq!(pending.attempt.took_ms, Some(60_000), "its time begins behind the trial");
}
