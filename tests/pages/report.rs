//! The hand-out for a co-leader, and the sheet for the wall.

use crate::house::House;
use crate::printed::pages;
use crate::{flowing, is_on_paper, print, text_of};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use needlewise::drill::Standard;
use needlewise::learner::Placement;
use needlewise::paper::Sheet;
use needlewise::problem::{Code, Level, realise};
use needlewise::report::{self, PlanTold, Report};
use needlewise::session::Readiness;
use needlewise::skills;
use needlewise::store::{AttemptKind, Help, NewAttempt, NewSession, RecordedVerdict, Seen, SeenOutcome, Store};
use needlewise::worksheet::{printed_report, printed_ticks, printed_wall};
use std::fs;

pub const DAY: Date = date(2026, 5, 9);
const FLIPPED: &str = "sign-flipped";

/// Three people: Ilva and Cai flip the sign; Bo and Ada are ready in all, Cai in the first skill.
pub fn camp() -> Report {
    let folder = tempfile::tempdir().unwrap();
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
    let mut seconds = 0;
    for name in ["Ilva Tarn", "Bo Fell", "Cai Moor", "Ada Beck"] {
        seconds += 1;
        let at = |seconds: i64| Timestamp::new(1_778_313_600 + seconds, 0).unwrap();
        let learner = store.add_learner(name, Placement::Fresh, at(seconds)).unwrap().id;
        let program = "test".to_owned();
        let new =
            NewSession { learner, at: at(seconds), day: DAY, day_given: false, drill: None, check: None, program };
        let session = store.start_session(&new).unwrap();
        if name.starts_with(['B', 'A']) {
            continue;
        }
        for (skill, seed) in
            ["orient-true-line", "follow-bearing"].into_iter().flat_map(|skill| [(skill, 3), (skill, 4), (skill, 5)])
        {
            seconds += 1;
            let found = skills::find(skill).unwrap();
            let problem = realise(&Code { skill: found, level: Level::THREE, seed, home: None }).unwrap();
            let verdict = RecordedVerdict::Mixup(FLIPPED.to_owned());
            let attempt = NewAttempt {
                learner,
                session,
                at: at(seconds),
                day: DAY,
                kind: AttemptKind::Practice,
                code: problem.code().to_string(),
                skill: skill.to_owned(),
                level: problem.code().level,
                generation: problem.skill().generation,
                seed,
                facts: problem.facts().json(),
                right: r#"["056"]"#.to_owned(),
                given: r#"["040"]"#.to_owned(),
                verdict,
                exposed: vec![FLIPPED.to_owned()],
                help: Help::Bare,
                explained: true,
                took_ms: None,
                moves: None,
            };
            store.record(&attempt).unwrap();
        }
    }
    let standard = Standard::find("day-outing", None).unwrap();
    let mut report = Report::gather(&mut store, &standard, (DAY, false), &|_| true).unwrap();
    // Whole checks are played elsewhere; here it is what the pages make of their results.
    let ready = Readiness::Ready { since: DAY, until: date(2026, 8, 9) };
    let not_yet = Readiness::NotYet { since: DAY, from: date(2026, 5, 23) };
    for member in &mut report.members {
        let name = member.learner.name.clone();
        for (at, cell) in member.cells.iter_mut().enumerate() {
            match &*name {
                "Bo Fell" | "Ada Beck" => cell.readiness = ready,
                "Cai Moor" if at == 0 => cell.readiness = ready,
                "Ilva Tarn" if at == 1 => cell.readiness = not_yet,
                _ => {}
            }
        }
    }
    for teach in &mut report.teach {
        let known = |wanted: &str| {
            let member = report.members.iter().find(|member| member.learner.name == wanted).unwrap();
            (member.learner.id, wanted.to_owned())
        };
        teach.could_show = ["Bo Fell", "Ada Beck"].map(known).into();
    }
    report
}

#[test]
fn the_hand_out_says_all_that_the_report_says_as_text() {
    let report = camp();
    assert!(!report.teach.is_empty());
    for (sheet, size) in [(Sheet::A4, (210.0, 297.0)), (Sheet::Letter, (215.9, 279.4))] {
        for hide in [false, true] {
            let show = report.shown_as(hide);
            let printed = printed_report(&report, &PlanTold::default(), &show, sheet);
            let pages = pages(&printed.bytes);
            assert_eq!((pages.len(), printed.missing.len()), (printed.pages, 0));
            is_on_paper(&pages, size);
            assert!(printed.bytes.len() / pages.len() <= 40_000);
            let paper = text_of(&pages);
            for line in report::teach_lines(&report, &show).iter().chain(&report::closing_lines(&report)) {
                assert!(paper.contains(&flowing(line)), "{line}\n{paper}");
            }
            for member in &report.members {
                assert!(paper.contains(&flowing(&report::member_words(member, &show))), "{paper}");
                assert_eq!(paper.contains(&member.learner.name), !hide);
                for cell in &member.cells {
                    let row = format!("{} {} level {}", cell.skill.mark, cell.skill.title, cell.level);
                    assert!(paper.contains(&row), "{row}\n{paper}");
                    assert!(paper.contains(&flowing(&report::standing_words(member, cell))), "{paper}");
                }
            }
            assert!(paper.contains("not yet") && paper.contains("2 of 4"), "{paper}");
        }
    }
}

/// What a browser shows of a page: its text, without what it is written in.
fn shown(html: &str) -> String {
    let body = html.split_once("<body>").unwrap().1;
    let mut out = String::new();
    for part in body.split('<') {
        out.push(' ');
        out.push_str(part.split_once('>').map_or(part, |(_, text)| text));
    }
    let out = out.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
    flowing(&out)
}

#[test]
fn the_page_for_a_browser_says_the_same_with_figures_and_fetches_nothing() {
    let report = camp();
    for hide in [false, true] {
        let show = report.shown_as(hide);
        let html = report::html(&report, &PlanTold::default(), &show);
        let text = shown(&html);
        for line in report::teach_lines(&report, &show).iter().chain(&report::closing_lines(&report)) {
            assert!(text.contains(&flowing(line)), "{line}\n{text}");
        }
        for member in &report.members {
            assert!(text.contains(&flowing(&report::member_words(member, &show))), "{text}");
            assert!(text.contains(&flowing(&member.ready_for(&report.standard.title)[4..])), "{text}");
            assert_eq!(text.contains(&member.learner.name), !hide);
        }
        // A figure for each thing to teach, with the steps to the right answer.
        assert!(html.matches("<svg ").count() >= report.teach.len(), "{html}");
        assert_eq!(html.matches("<figure>").count(), html.matches("</figure>").count());
        assert!(
            !html.contains("<script") && !html.contains("src=") && !html.contains("url(") && !html.contains("href")
        );
        let namespaces = html.matches("xmlns=\"http://www.w3.org/2000/svg\"").count();
        assert_eq!(html.matches("://").count(), namespaces, "nothing is fetched from anywhere");
    }
}

#[test]
fn a_name_is_never_taken_for_anything_else_by_a_browser() {
    let html = report::html(&camp(), &PlanTold::default(), &|name| format!("<img src=x onerror=go()>{name}\" & co"));
    assert!(!html.contains("<img") && html.contains("&lt;img src=x onerror=go()&gt;Bo Fell&quot; &amp; co"), "{html}");
}

#[test]
fn laptop_and_ground_say_together_what_somebody_is_ready_for() {
    let report = camp();
    let title = report.standard.title.as_str();
    let of = |wanted: &str| report.members.iter().find(|member| member.learner.name.starts_with(wanted)).unwrap();
    let mut bo = of("Bo").clone();
    let marks: Vec<&str> = bo.cells.iter().map(|cell| cell.skill.mark).collect();
    let all = format!("ready for {title} at the laptop; still to be seen on the ground: all {}", marks.len());
    assert_eq!(bo.ready_for(title), all);
    let seen = |skill: &str, outcome| Seen {
        learner: bo.learner.id,
        skill: skill.to_owned(),
        what: String::new(),
        day: DAY,
        by: "Alma".to_owned(),
        outcome,
    };
    let entries: Vec<Seen> = bo.cells.iter().map(|cell| seen(cell.skill.id, SeenOutcome::Yes)).collect();
    let missed = seen(bo.cells[1].skill.id, SeenOutcome::No);
    for (cell, entry) in bo.cells.iter_mut().zip(entries) {
        cell.seen.push(entry);
    }
    assert_eq!(bo.ready_for(title), format!("ready for {title}, at the laptop and on the ground"));
    // What was seen last counts.
    bo.cells[1].seen.push(missed);
    let words = format!("ready for {title} at the laptop; still to be seen on the ground: {}", marks[1]);
    assert_eq!(bo.ready_for(title), words);
    let cai = of("Cai").ready_for(title);
    let missing = marks[1..].join(", ");
    let ground = format!("on the ground: all {}", marks.len());
    assert_eq!(cai, format!("for {title} still open at the laptop: {missing}; {ground}"));
    // An entry without a yes or no takes nothing away.
    let mut said = bo.cells[0].clone();
    said.seen.push(seen(said.skill.id, SeenOutcome::NotSaid));
    assert!(said.is_seen());
}

#[test]
fn the_wall_says_who_is_ready_and_who_shows_whom_and_shames_nobody() {
    let report = camp();
    for (sheet, size) in [(Sheet::A4, (210.0, 297.0)), (Sheet::Letter, (215.9, 279.4))] {
        let pages = pages(&printed_wall(&report, &report.shown_as(true), sheet).bytes);
        is_on_paper(&pages, size);
        let paper = text_of(&pages);
        let lower = paper.to_lowercase();
        for teach in &report.teach {
            assert!(!lower.contains(&teach.words().0.to_lowercase()), "{paper}");
            assert!(!lower.contains(&teach.words().1.to_lowercase()), "{paper}");
        }
        for skill in skills::metas() {
            for mixup in skill.mixups {
                assert!(!lower.contains(&mixup.said.to_lowercase()), "{}: {paper}", mixup.said);
            }
        }
        for word in ["not yet", "weak", "wrong", "likely", "second try", "next:", "2026-05-23", "040", "0 of"] {
            assert!(!lower.contains(word), "{word}: {paper}");
        }
        for member in &report.members {
            assert!(!paper.contains(&member.learner.name), "{paper}");
        }
        let first = report.standard.skills[0].skill.title;
        assert!(
            paper.contains(&format!("{first} A.B., B.F., C.M. "))
                || paper.contains(&format!("{first} A.B., C.M., B.F. "))
                || paper.contains(&format!("{first} C.M., A.B., B.F. ")),
            "{paper}"
        );
        for one in &report.standard.skills {
            assert!(paper.contains(one.skill.title));
        }
        assert!(paper.contains("Who shows whom B.F. shows ") && paper.contains("A.B. shows "), "{paper}");
        assert!(paper.contains("No permission to go out of sight"));
    }
    let named = text_of(&pages(&printed_wall(&report, &report.shown_as(false), Sheet::A4).bytes));
    assert!(named.contains("Bo Fell shows "), "{named}");
}

#[test]
fn whoever_did_it_on_the_ground_stands_on_the_wall_also_without_the_laptop() {
    let mut report = camp();
    for member in report.members.iter_mut().filter(|member| ["Ilva Tarn", "Bo Fell"].contains(&&*member.learner.name)) {
        let seen = Seen {
            learner: member.learner.id,
            skill: member.cells[1].skill.id.to_string(),
            what: "at the tarn".to_owned(),
            day: DAY,
            by: "Alma".to_owned(),
            outcome: SeenOutcome::Yes,
        };
        member.cells[1].seen.push(seen);
    }
    let paper = text_of(&pages(&printed_wall(&report, &report.shown_as(true), Sheet::A4).bytes));
    assert!(paper.contains("B.F. +") && paper.contains("I.T. (+)"), "{paper}");
    assert!(!paper.to_lowercase().contains("not yet"), "{paper}");
}

#[test]
fn a_sheet_for_outdoors_has_a_yes_and_a_no_for_each_of_them_in_each_skill() {
    let mut report = camp();
    let skill = report.members[0].cells[0].skill.id.to_string();
    let seen = |outcome| Seen {
        learner: report.members[0].learner.id,
        skill: skill.clone(),
        what: String::new(),
        day: DAY,
        by: "Alma".to_owned(),
        outcome,
    };
    let (missed, did) = (seen(SeenOutcome::No), seen(SeenOutcome::Yes));
    report.members[0].cells[0].seen.extend([did, missed]);
    let (members, skills) = (report.members.len(), report.standard.skills.len());
    for (sheet, size) in [(Sheet::A4, (210.0, 297.0)), (Sheet::Letter, (215.9, 279.4))] {
        let pages = pages(&printed_ticks(&report, &report.shown_as(false), sheet).bytes);
        is_on_paper(&pages, size);
        let paper = text_of(&pages);
        assert_eq!(paper.matches("□ yes □ no").count(), members * skills, "{paper}");
        for member in &report.members {
            assert!(paper.contains(&member.learner.name), "{paper}");
        }
        // By name, whoever needs the leader first: the boxes on the screen stand in the same order on any later day.
        let places =
            report.clone().by_name().members.into_iter().map(|member| paper.find(&member.learner.name).unwrap());
        assert!(places.collect::<Vec<_>>().is_sorted(), "{paper}");
        for one in &report.standard.skills {
            assert!(paper.contains(one.skill.mark), "what is typed for it later: {paper}");
        }
        // What was seen last counts, and stands there.
        assert_eq!(paper.matches(&format!("not yet on {DAY}")).count(), 1, "{paper}");
        assert!(!paper.contains(&format!("yes on {DAY}")), "{paper}");
        assert!(paper.contains("--skill E1"), "typed by its mark, as it stands above the boxes: {paper}");
        assert!(paper.contains("Walk the ground yourself first") && paper.contains("No permission to go out of sight"));
    }
    // Whoever turns the page finds the skills again.
    let many: Vec<_> = (0..30).flat_map(|_| report.members.first().cloned()).collect();
    let crowd = needlewise::report::Report { members: many, ..report.clone() };
    let (sheets, mark) =
        (pages(&printed_ticks(&crowd, &crowd.shown_as(false), Sheet::A4).bytes), report.standard.skills[0].skill.title);
    assert!(sheets.len() >= 2, "{} pages", sheets.len());
    for page in &sheets {
        let text = text_of(std::slice::from_ref(page));
        assert!(text.contains(mark) || !text.contains('□'), "{text}");
    }
    report.members.clear();
    let nobody = text_of(&pages(&printed_ticks(&report, &report.shown_as(false), Sheet::A4).bytes));
    assert!(nobody.contains("Nobody is here yet.") && !nobody.contains('□'), "{nobody}");
}

#[test]
fn from_the_command_line_the_wall_has_initials_unless_names_are_asked_for() {
    let house = House::new();
    for name in ["Ana Tarn", "Bo Fell"] {
        assert_eq!(house.run(&["patrol", "add", name]).code, 0);
    }
    let seen = ["patrol", "seen", "Ana Tarn", "--skill", "follow-bearing", "--by", "Alma", "--outcome", "no"];
    assert_eq!(house.run(&seen).code, 0);
    let words = ["report", "--date", "2026-11-25"];
    let (whole, told) = print(&house, &[&words[..], &["--format", "pdf"]].concat());
    assert!(told.starts_with("out.pdf: the report, "), "{told}");
    assert!(text_of(&pages(&whole)).contains("Ana Tarn: ready at the laptop in 0 of 6"));
    assert!(text_of(&pages(&whole)).contains("Seen on the ground, and not yet right there: Ana at "));
    assert!(
        whole == print(&house, &words).0,
        "the ending of the file says that it is a PDF, and the bytes are the same"
    );
    let initials = print(&house, &[&words[..], &["--initials"]].concat()).0;
    assert!(!text_of(&pages(&initials)).contains("Tarn"));
    let (wall, told) = print(&house, &[&words[..], &["--wall"]].concat());
    assert!(told.starts_with("out.pdf: a sheet for the wall, 1 page."), "{told}");
    let paper = text_of(&pages(&wall));
    assert!(!paper.contains("Ana") && !paper.contains("Alma") && !paper.contains("A.T."), "{paper}");
    assert!(wall == print(&house, &[&words[..], &["--wall"]].concat()).0);
    let csv = house.run(&[&words[..], &["--output", "out.csv"]].concat());
    assert_eq!((csv.code, csv.out.as_str()), (0, "out.csv: the report.\n"));
    let written = fs::read_to_string(house.home().join("out.csv")).unwrap();
    assert_eq!(written, house.run(&[&words[..], &["--format", "csv"]].concat()).out);
    let again = house.run(&[&words[..], &["--wall", "--output", "out.pdf"]].concat());
    assert_eq!(again.code, 1);
    assert!(again.err.contains("is there already"), "{}", again.err);
    assert!(house.refused(&["report", "--names"]).contains("--wall"));
}
