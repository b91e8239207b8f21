//! What a check keeps to itself until a try has ended, and what it always tells: leaving, and days given by hand.

use super::{Camp, Does, answer, moment, standard, today, two_skills};
use jiff::ToSpan;
use needlewise::clerk::{self, Now};
use needlewise::drill::Standard;
use needlewise::learner::Beliefs;
use needlewise::report::{self, Report};
use needlewise::session::{CheckEnd, Readiness, untold};
use needlewise::skills;
use needlewise::store::Progress;

impl Camp {
    /// The report in all its forms, as one text.
    pub fn told(&self, standard: &Standard) -> (Report, String) {
        let report = Report::gather(&mut self.store(), standard, (today(), false), &|_| true).unwrap();
        let name = report.shown_as(false);
        let mut all = report::text(&report, &report::PlanTold::default(), &name);
        // Lines are wrapped: what stands over two of them is looked for, too.
        all.push(all.join(" ").split_whitespace().collect::<Vec<_>>().join(" "));
        all.extend(report::json(&report, &name).unwrap());
        all.push(report::csv(&report, &name).unwrap());
        let text = all.join("\n");
        drop(name);
        (report, text)
    }

    fn beliefs(&self) -> Beliefs {
        clerk::learner(&mut self.store(), self.learner.id).unwrap().1
    }
}

/// A sitting of so many answers, left without a word.
fn sits(camp: &Camp, standard: &Standard, answers: u32, does: Does) -> CheckEnd {
    let (mut store, mut check) = camp.sit(standard, today()).expect("something to ask");
    for _ in 0..answers {
        check.next(moment(today())).expect("a problem");
        answer(&mut store, &mut check, does, today());
    }
    check.next(moment(today()));
    check.end()
}

pub fn one_skill() -> Standard {
    standard(
        "name = \"one\"\ntitle = \"One\"\ntries = 2\nready = [[9, 9], [12, 13], [16, 18], [16, 19]]\n\
         stop = [[2, 3, 8], [3, 9, 10], [4, 11, 19]]\ncritical = []\n[[skill]]\nid = \"true-magnetic\"\nlevel = 3\n",
    )
}

#[test]
fn of_a_try_under_way_nothing_is_told_but_since_when() {
    let (camp, standard) = (Camp::new(), one_skill());
    let (report, before) = camp.told(&standard);
    assert!(report.teach.is_empty() && !before.contains("under way"), "{before}");
    let fresh = camp.beliefs();
    let end = sits(&camp, &standard, 2, Does::MixUp("sign-flipped"));
    assert!(end.lines[0].tries.is_empty() && end.lines[0].codes.is_empty() && end.lines[0].missed.is_empty());
    assert_eq!((end.lines[0].words(), end.lines[0].count()), ("under way since 2026-06-06".to_owned(), String::new()));
    let (report, told) = camp.told(&standard);
    let cell = &report.members[0].cells[0];
    assert_eq!((cell.readiness, cell.count()), (Readiness::UnderWay { since: today() }, None));
    assert_eq!(report::cell_words(cell), "under way since 2026-06-06");
    assert!(report.teach.is_empty() && report.members[0].weak.is_empty(), "{told}");
    for telling in ["right of", "B2-3-", "wrong way", "learning"] {
        assert!(!told.contains(telling), "{telling:?} is told:\n{told}");
    }
    assert!(told.contains("level 3: under way since 2026-06-06; in practice: not met"), "{told}");
    assert!(told.contains("under way,,,0,2026-06-06,,,not met"), "{told}");
    assert_eq!(camp.beliefs(), fresh, "what is believed would tell what was answered");
    assert_eq!(report::mixup_patterns(&camp.store(), camp.learner.id, &camp.beliefs()).unwrap(), []);
    assert_eq!(clerk::past_answers(&camp.store(), camp.learner.id).unwrap(), []);
    assert_eq!(clerk::progress(&camp.store(), camp.learner.id).unwrap(), Progress::default());
}

#[test]
fn what_practice_believes_learns_of_a_try_only_when_it_has_ended() {
    let (camp, standard) = (Camp::new(), one_skill());
    sits(&camp, &standard, 2, Does::MixUp("sign-flipped"));
    // Practice in between is told of itself alone.
    let mut store = camp.store();
    let now = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at: moment(today()) };
    let opened = clerk::open_practice(&mut store, camp.learner.id, now, None, 3).unwrap();
    let plan = needlewise::session::Plan::free(
        needlewise::session::GroundCard::new(&needlewise::config::Config::default(), "", today()).home,
    );
    let plan = plan.with_skills(&["true-magnetic"], Some(needlewise::problem::Level::THREE));
    let mut practice = needlewise::session::Practice::new(plan, opened.sitting, opened.beliefs);
    let asked = practice.next(moment(today())).expect("a problem").clone();
    let texts = super::texts(&asked.problem, asked.problem.answer());
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    let pending = practice.answer(&texts, moment(today())).unwrap().expect("judged");
    let stored = clerk::record(&mut store, &pending).unwrap();
    practice.confirm(pending, stored);
    let count = |beliefs: &Beliefs| beliefs.skill("true-magnetic").unwrap().count();
    assert_eq!(count(&camp.beliefs()), 1, "the one of practice");
    assert_eq!(untold(&store.checks(camp.learner.id).unwrap()).len(), 2);
    sits(&camp, &standard, 1, Does::MixUp("sign-flipped"));
    assert_eq!(count(&camp.beliefs()), 4, "three wrong answers have ended the try");
    let (report, told) = camp.told(&standard);
    assert!(told.contains("0 right of 3") && told.contains("B2-3-") && !report.teach.is_empty(), "{told}");
}

#[test]
fn codes_and_solutions_are_told_when_the_try_has_ended() {
    let (camp, standard) = (Camp::new(), two_skills());
    let end = sits(&camp, &standard, 6, Does::Wrong);
    for line in &end.lines {
        assert_eq!((line.codes.len(), line.missed.len()), (3, 3), "{}", line.skill.id);
        assert!(line.codes.iter().all(|code| skills::read_code(code).is_ok()), "{:?}", line.codes);
    }
}

#[test]
fn leaving_in_the_middle_and_coming_back_is_counted_and_told() {
    let (camp, standard) = (Camp::new(), two_skills());
    assert_eq!(sits(&camp, &standard, 1, Does::Right).came_back, 0);
    // Looking at the problem and leaving again is leaving, too.
    assert_eq!(sits(&camp, &standard, 0, Does::Right).came_back, 1);
    let end = sits(&camp, &standard, 2, Does::Right);
    assert_eq!(end.came_back, 2);
    assert!(end.remarks().contains(&"Left in the middle and gone on with: twice.".to_owned()), "{:?}", end.remarks());
    let (_, told) = camp.told(&standard);
    assert!(told.contains("The check begun on 2026-06-06: left in the middle and gone on with: twice."), "{told}");
    assert!(told.contains(r#""came_back":[{"check_begun":"2026-06-06","times":2}]"#), "{told}");
}

#[test]
fn a_second_try_on_another_day_is_not_coming_back_from_leaving() {
    let (camp, standard) = (Camp::new(), two_skills());
    camp.whole(&standard, today(), |_| Does::Wrong);
    camp.whole(&standard, today() + 1.day(), |_| Does::Right);
    let record = camp.record(&standard);
    assert_eq!((record.checks[0].came_back, record.checks[0].left), (0, false));
    assert!(!camp.told(&standard).1.contains("gone on with"));
}

#[test]
fn a_day_given_by_hand_is_marked_wherever_a_result_rests_on_it() {
    let (camp, standard) = (Camp::new(), one_skill());
    // The tests' sittings have days that were given.
    camp.whole(&standard, today(), |_| Does::Right);
    let (report, told) = camp.told(&standard);
    assert!(report.members[0].cells[0].day_given() && !report.day_given);
    let marked = "ready at the laptop, 9 right of 9 on 2026-06-06, good until 2026-12-03 (day given by hand)";
    assert!(told.contains(marked), "{told}");
    assert!(told.contains(r#""day":"2026-06-06","day_given":true"#), "{told}");
    let end = sits(&Camp::new(), &standard, 9, Does::Right);
    assert!(end.remarks().iter().any(|remark| remark.starts_with("A day was given by hand")), "{:?}", end.remarks());
}

#[test]
fn ready_is_at_the_laptop_and_for_a_day_only_who_was_seen_on_the_ground() {
    let (camp, standard) = (Camp::new(), one_skill());
    let mut next = Vec::new();
    let seen = |outcome, day| needlewise::store::Seen {
        learner: camp.learner.id,
        skill: "true-magnetic".to_owned(),
        what: String::new(),
        day,
        by: "Alma".to_owned(),
        outcome,
    };
    use needlewise::store::SeenOutcome::{No, Yes};
    camp.whole(&standard, today(), |_| Does::Right);
    next.push(camp.told(&standard).0.members[0].next.words());
    for (outcome, day) in [(Yes, 1), (No, 2), (Yes, 3)] {
        camp.store().add_seen(&[seen(outcome, today() + day.days())], moment(today())).unwrap();
        next.push(camp.told(&standard).0.members[0].next.words());
    }
    let (outside, done) = ("see it on the ground", "nothing; the leader decides");
    assert_eq!(next, [outside, done, outside, done], "the latest counts, and a failure is no success");
    let (_, told) = camp.told(&standard);
    assert!(told.contains("by Alma: no") && told.contains("by Alma: yes"), "{told}");
    assert!(told.contains("No permission to go out of sight: a qualified leader and local rules decide."), "{told}");
}

#[test]
fn a_check_goes_on_by_the_line_it_began_with_whatever_maps_come_later() {
    use needlewise::angle::North;
    let camp = Camp::new();
    let day_outing = |line| Standard::find("day-outing", None).unwrap().on_lines(Some(&[line]));
    let orients = |standard: &Standard| {
        let (_, check) = camp.sit(standard, today()).expect("a check");
        let asked: Vec<String> = check.terms().skills.iter().map(|one| one.id.clone()).collect();
        (asked[0].clone(), check.terms().agree_with(standard))
    };
    assert_eq!(orients(&day_outing(North::Magnetic)), ("orient-magnetic-line".to_owned(), true));
    assert_eq!(orients(&day_outing(North::Grid)), ("orient-magnetic-line".to_owned(), false), "and the screen says so");
}
