//! One error is one weak spot, for the learner and for the leader; and nobody shows what goes wrong with them.
#![expect(clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use jiff::Timestamp;
use jiff::civil::{Date, date};
use needlewise::clerk::{self, Now};
use needlewise::drill::Standard;
use needlewise::learner::{CommonError, Placement, Standing};
use needlewise::problem::{Code, Level, Problem, Question, TableProblem, realise};
use needlewise::report::{self, Report};
use needlewise::session::{Overview, ended_words, weak_spot_words};
use needlewise::skills;
use needlewise::store::{AttemptKind, Help, LearnerId, NewAttempt, NewSession, RecordedVerdict, SessionId, Store};
use tempfile::TempDir;

const DAY: Date = date(2026, 5, 9);
const FLIPPED: &str = "sign-flipped";
/// B2, B4, D2 and E2.
const FOUR: [&str; 4] = ["true-magnetic", "grid-magnetic", "orient-true-line", "follow-bearing"];

struct Camp {
    _folder: TempDir,
    store: Store,
    seconds: i64,
}

struct Member {
    id: LearnerId,
    session: SessionId,
}

impl Camp {
    fn new() -> Camp {
        let folder = tempfile::tempdir().unwrap();
        let metas: Vec<_> = skills::metas().collect();
        let store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
        Camp { _folder: folder, store, seconds: 0 }
    }

    fn now(&mut self) -> Timestamp {
        self.seconds += 1;
        Timestamp::new(1_778_313_600 + self.seconds, 0).unwrap()
    }

    fn add(&mut self, name: &str) -> Member {
        let at = self.now();
        let id = self.store.add_learner(name, Placement::Fresh, at).unwrap().id;
        let program = "test".to_owned();
        let new = NewSession { learner: id, at, day: DAY, day_given: false, drill: None, check: None, program };
        Member { id, session: self.store.start_session(&new).unwrap() }
    }

    /// An answer to a problem of the skill that exposes the sign; right, otherwise wrong, or the sign flipped.
    fn answer(&mut self, member: &Member, skill: &str, verdict: RecordedVerdict) {
        self.answer_in(AttemptKind::Practice, member, skill, verdict);
    }

    fn answer_in(&mut self, kind: AttemptKind, member: &Member, skill: &str, verdict: RecordedVerdict) {
        let problem = problem(skill, self.seconds as u64);
        let at = self.now();
        self.store
            .record(&NewAttempt {
                learner: member.id,
                session: member.session,
                at,
                day: DAY,
                kind,
                code: problem.code().to_string(),
                skill: skill.to_owned(),
                level: problem.code().level,
                generation: problem.skill().generation,
                seed: problem.code().seed,
                facts: problem.facts().json(),
                right: "{}".to_owned(),
                given: r#"["7"]"#.to_owned(),
                verdict,
                exposed: exposed(&problem),
                help: Help::Bare,
                explained: true,
                took_ms: None,
                moves: None,
            })
            .unwrap();
    }

    fn report(&mut self) -> Report {
        Report::gather(&mut self.store, &Standard::find("day-outing", None).unwrap(), (DAY, false), &|_| true).unwrap()
    }
}

fn exposed(problem: &Problem) -> Vec<String> {
    let ids = match problem.question() {
        Question::Table(_) => TableProblem::exposes(problem),
        _ => problem.mixups().iter().map(|mixup| mixup.meta.id).collect(),
    };
    ids.iter().map(|id| id.as_str().to_owned()).collect()
}

fn problem(skill: &str, from: u64) -> Problem {
    let skill = skills::find(skill).unwrap();
    // Level 2 of following a bearing asks for no declination.
    let level = if skill.meta().id == "follow-bearing" { Level::THREE } else { Level::TWO };
    (from * 100..from * 100 + 500)
        .map(|seed| realise(&Code { skill, level, seed, home: None }).unwrap())
        .find(|problem| skill.meta().mixup(FLIPPED).is_none() || exposed(problem).iter().any(|id| id == FLIPPED))
        .unwrap()
}

fn flipped() -> RecordedVerdict {
    RecordedVerdict::Mixup(FLIPPED.to_owned())
}

/// What is told of weak spots that ended when this member opens practice.
fn told_ended(camp: &mut Camp, member: &Member) -> Vec<String> {
    let now = Now { days: needlewise::session::Days::Clock(jiff::tz::TimeZone::UTC), at: camp.now() };
    let opened = clerk::open_practice(&mut camp.store, member.id, now, None, 1).unwrap();
    opened.ended.iter().map(ended_words).collect()
}

#[test]
fn a_weak_spot_that_ends_in_a_round_is_told_once_when_practice_is_opened_again() {
    let mut camp = Camp::new();
    let ilva = camp.add("Ilva");
    for skill in FOUR.into_iter().chain(["true-magnetic"]) {
        camp.answer(&ilva, skill, flipped());
    }
    assert_eq!(camp.store.beliefs(ilva.id).unwrap().weak_spots()[0].standing, Standing::Named);
    assert_eq!(told_ended(&mut camp, &ilva), [""; 0], "it stands");
    for _ in 0..8 {
        for skill in FOUR {
            camp.answer_in(AttemptKind::Round, &ilva, skill, RecordedVerdict::Right);
        }
    }
    let told = "No longer a weak spot in several skills: you applied the correction the wrong way round.";
    assert_eq!(told_ended(&mut camp, &ilva), [told]);
    camp.answer(&ilva, "back-bearing", RecordedVerdict::Right);
    assert_eq!(told_ended(&mut camp, &ilva), [""; 0], "it was told");
}

#[test]
fn five_sign_flips_spread_over_four_skills_are_one_weak_spot_told_once_to_learner_and_leader() {
    let mut camp = Camp::new();
    let ilva = camp.add("Ilva");
    for skill in FOUR.into_iter().chain(["true-magnetic"]) {
        let spots = camp.store.beliefs(ilva.id).unwrap().weak_spots();
        assert!(
            spots.iter().all(|spot| spot.standing == Standing::Suspected) || spots[0].places.len() == 4,
            "{spots:?}"
        );
        camp.answer(&ilva, skill, flipped());
        // In between something that has no declination in it comes right.
        camp.answer(&ilva, "back-bearing", RecordedVerdict::Right);
    }
    let page = Overview::new(&camp.store.beliefs(ilva.id).unwrap(), DAY);
    assert_eq!(page.weak.len(), 1, "{:?}", page.weak);
    let spot = &page.weak[0];
    assert_eq!((spot.common(), spot.standing), (Some(CommonError::WrongWay), Standing::Named));
    assert!(FOUR.iter().all(|skill| spot.is_in(skill)) && spot.places.len() == 4);
    let words = weak_spot_words(spot);
    assert!(words.starts_with("Declination the wrong way, in True and magnetic, "), "{words}");
    assert!(words.ends_with(": you applied the correction the wrong way round (5 of the last 5)"), "{words}");

    let report = camp.report();
    let lines = report::teach_lines(&report, &str::to_owned).join("\n") + "\n";
    assert_eq!(report.teach.len(), 1, "{lines}");
    assert!(lines.contains("  1. Declination the wrong way, in True and magnetic, "), "{lines}");
    assert!(lines.contains(": 1 member applied the correction the wrong way round\n"), "{lines}");
    assert!(lines.contains("Ilva: a weak spot in ") && lines.contains(": 5 of the last 5\n"), "{lines}");
    let json = report::json(&report, &|name| name.to_owned()).unwrap();
    let teach: Vec<_> = json.iter().filter(|line| line.contains(r#""kind":"teach_next""#)).collect();
    assert_eq!(teach.len(), 1);
    let teach: serde_json::Value = serde_json::from_str(teach[0]).unwrap();
    assert_eq!(teach["error"], "declination-wrong-way");
    assert_eq!(teach["places"].as_array().unwrap().len(), 4);
    assert_eq!(
        teach["members"][0]["evidence"].as_array().unwrap().len(),
        3,
        "the latest three problems, of all skills"
    );
}

#[test]
fn two_members_who_err_the_same_way_in_different_skills_are_one_thing_to_teach() {
    let mut camp = Camp::new();
    let (ilva, tarn) = (camp.add("Ilva"), camp.add("Tarn"));
    for _ in 0..3 {
        camp.answer(&ilva, "true-magnetic", flipped());
        camp.answer(&tarn, "follow-bearing", flipped());
    }
    let report = camp.report();
    assert_eq!(report.teach.len(), 1);
    assert_eq!((report.teach[0].members.len(), report.teach[0].places.len()), (2, 2));
}

#[test]
fn nobody_could_show_what_goes_wrong_with_them() {
    let mut camp = Camp::new();
    let (ilva, tarn, mossa) = (camp.add("Ilva"), camp.add("Tarn"), camp.add("Mossa"));
    // Ilva has the weak spot in two skills; Tarn is sure of one of them, and by another error lost in the other.
    for skill in ["true-magnetic", "grid-magnetic"] {
        for _ in 0..3 {
            camp.answer(&ilva, skill, flipped());
        }
    }
    for _ in 0..4 {
        camp.answer(&tarn, "true-magnetic", RecordedVerdict::Right);
        camp.answer(&mossa, "true-magnetic", RecordedVerdict::Right);
        camp.answer(&tarn, "grid-magnetic", RecordedVerdict::Mixup("applied-twice".to_owned()));
    }
    let report = camp.report();
    let about: Vec<_> = report.teach.iter().filter(|teach| teach.common == Some(CommonError::WrongWay)).collect();
    assert_eq!(about.len(), 1);
    let shows: Vec<&str> = about[0].could_show.iter().map(|(_, name)| name.as_str()).collect();
    assert_eq!(shows, ["Mossa"]);
}

#[test]
fn nothing_right_and_no_pattern_is_told_to_learner_and_leader() {
    let mut camp = Camp::new();
    let ilva = camp.add("Ilva");
    for _ in 0..4 {
        camp.answer(&ilva, "true-magnetic", RecordedVerdict::Unrecognised);
    }
    let page = Overview::new(&camp.store.beliefs(ilva.id).unwrap(), DAY);
    assert_eq!(page.weak, []);
    let told = "True and magnetic: 0 of 4, no pattern: begin again with the sketch";
    assert_eq!(page.without_pattern.iter().map(needlewise::session::no_pattern_words).collect::<Vec<_>>(), [told]);
    let report = camp.report();
    let lines = report::teach_lines(&report, &str::to_owned).join("\n") + "\n";
    assert!(lines.contains(&format!("\n  Ilva: {told}\n")) && !lines.contains("No weak spot stands out"), "{lines}");
    let whole = Standard::find("whole-core", None).unwrap();
    let report = Report::gather(&mut camp.store, &whole, (DAY, false), &|_| true).unwrap();
    let csv = report::csv(&report, &|name| name.to_owned()).unwrap();
    assert!(csv.lines().next().unwrap().ends_with(",wrong_without_pattern"), "{csv}");
    let row = csv.lines().find(|row| row.contains(",true-magnetic,")).unwrap();
    assert!(row.contains(",learning,") && row.ends_with(",4"), "{row}");
}

#[test]
fn what_was_seen_in_two_members_is_said_as_seen_before_any_pattern_is_sure() {
    let mut camp = Camp::new();
    let [ana, bo, cem] = ["Ana", "Bo", "Cem"].map(|name| camp.add(name));
    let told = |camp: &mut Camp, hide: bool| {
        let report = camp.report();
        let lines = report::teach_lines(&report, &report.shown_as(hide)).join("\n") + "\n";
        (report, lines)
    };
    camp.answer(&cem, "true-magnetic", flipped());
    let (_, lines) = told(&mut camp, false);
    assert!(lines.contains("No weak spot stands out.") && !lines.contains("Seen "), "once is nothing yet: {lines}");
    camp.answer(&ana, "grid-magnetic", flipped());
    camp.answer(&bo, "true-magnetic", RecordedVerdict::Right);
    let (report, lines) = told(&mut camp, false);
    assert!(report.teach.is_empty(), "nobody's pattern is sure: {:?}", report.teach);
    let seen = "Seen in more than one: applied the correction the wrong way round (Ana, Cem). The latest said ";
    assert!(lines.contains(seen) && lines.contains("No weak spot is sure yet."), "{lines}");
    assert!(told(&mut camp, true).1.contains("round (A., C.). The latest"), "initials stand for the names");
    let json = report::json(&report, &|name| name.to_owned()).unwrap().join("\n");
    assert!(json.contains(r#""kind":"seen_lately""#) && json.contains(r#"["Ana","Cem"]"#), "{json}");
    // What was long ago is not what the group does now.
    let later = DAY.checked_add(jiff::ToSpan::days(29)).unwrap();
    let standard = Standard::find("day-outing", None).unwrap();
    let late = Report::gather(&mut camp.store, &standard, (later, false), &|_| true).unwrap();
    assert!(late.noticed.is_empty(), "{:?}", late.noticed);
    // As soon as it is a weak spot it is said as one, and once.
    for skill in FOUR.into_iter().chain(["true-magnetic"]) {
        camp.answer(&ana, skill, flipped());
    }
    let (report, lines) = told(&mut camp, false);
    assert!(report.teach.len() == 1 && report.noticed.is_empty() && !lines.contains("Seen in"), "{lines}");
}

#[test]
fn what_one_member_did_twice_is_said_as_seen_twice() {
    let mut camp = Camp::new();
    let ana = camp.add("Ana");
    // Between two that are right no pattern is sure.
    for verdict in [flipped(), RecordedVerdict::Right, RecordedVerdict::Right, RecordedVerdict::Right] {
        camp.answer(&ana, "true-magnetic", verdict);
    }
    for verdict in [RecordedVerdict::Right, RecordedVerdict::Right, RecordedVerdict::Right, flipped()] {
        camp.answer(&ana, "grid-magnetic", verdict);
    }
    let report = camp.report();
    let lines = report::teach_lines(&report, &str::to_owned).join("\n");
    assert!(report.teach.is_empty(), "{:?}", report.teach);
    assert!(lines.contains("Seen twice with one: applied the correction the wrong way round (Ana). "), "{lines}");
}
