//! The first page of the hand-out: one sheet that says who is ready for what and what to do first.

use crate::house::House;
use crate::printed::pages;
use crate::report::{DAY, camp};
use crate::{flowing, is_on_paper, print, text_of};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use needlewise::evening::{Evening, Job, KeptEvening, KeptWhen, plan_told};
use needlewise::learner::Placement;
use needlewise::paper::Sheet;
use needlewise::report::{self, NextStep, PlanTold, Report};
use needlewise::session::Readiness;
use needlewise::store::{Store, StoredEvening};
use needlewise::worksheet::{printed_first_page, printed_report};

const SHEETS: [(Sheet, (f64, f64)); 2] = [(Sheet::A4, (210.0, 297.0)), (Sheet::Letter, (215.9, 279.4))];
/// The longest names that the program takes, with letters of some width.
const LONG: [&str; 8] = [
    "Maximiliane Theodora Oberwasserthalmoos",
    "Wilhelmina Kornblumenfeld vom Moorgrund",
    "Bartholomew Featherstonemoor-Wainwright",
    "Annemarie Hochgebirgswaldner-Hammersund",
    "Christopherus Waldemar Sommergewittertal",
    "Philippa Montgomerydale of Longmoortarn",
    "Oktavian Rosenbaumgartenhof-Wiesenbachau",
    "Guinevere Marshmallowfield-Hummingwater",
];

/// So many members, each with another next step, all of them in the standard's six skills.
fn patrol(many: usize, name: impl Fn(usize) -> String) -> Report {
    let mut report = camp();
    let models = report.members.clone();
    let skills: Vec<_> = report.standard.skills.iter().map(|one| one.skill).collect();
    let steps = [
        NextStep::GoOn,
        NextStep::SecondTry,
        NextStep::Check,
        NextStep::Practise(skills[0]),
        NextStep::Practise(skills[1]),
        NextStep::SecondTryFrom(date(2026, 5, 10)),
        NextStep::Wait(date(2026, 5, 23)),
        NextStep::SeeOutside,
    ];
    let folder = tempfile::tempdir().unwrap();
    let metas: Vec<_> = needlewise::skills::metas().collect();
    let mut store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
    let mut member = |at: usize| {
        let mut member = models[at % models.len()].clone();
        member.learner = store.add_learner(&name(at), Placement::Fresh, Timestamp::UNIX_EPOCH).unwrap();
        member.next = steps[at % steps.len()];
        member
    };
    report.members = (0..many).map(&mut member).collect();
    let known: Vec<_> = report.members.iter().map(|member| (member.learner.id, member.learner.name.clone())).collect();
    for (at, teach) in report.teach.iter_mut().enumerate() {
        for (part, (id, name)) in teach.members.iter_mut().zip(known.iter().skip(at)) {
            (part.learner, part.name) = (*id, name.clone());
        }
        for (shows, other) in teach.could_show.iter_mut().zip(known.iter().rev()) {
            *shows = other.clone();
        }
    }
    report.day_rules =
        vec!["By grid-north lines on 2026-05-09: add 9, since magnetic north lies west there.".to_owned()];
    report
}

/// The plan of an evening of so many minutes for all of them, as it was kept on a day.
fn kept(report: &Report, minutes: u32, day: Date) -> StoredEvening {
    let evening = Evening::plan(report, minutes, |_| true).unwrap();
    let plan = KeptEvening { standard: report.standard.name.clone(), evening, slot: 0, kept: None };
    plan.stored(KeptWhen { day, clock: "18:30".to_owned(), at: Timestamp::UNIX_EPOCH })
}

fn short_name(at: usize) -> String {
    ["Ada Beck", "Bo Fell", "Cai Moor", "Dina Holt", "Eli Rigg", "Fay Tarn", "Gus Lund", "Ida Skarn"][at % 8].to_owned()
        + &if at < 8 { String::new() } else { format!(" {at}") }
}

#[test]
fn eight_members_with_the_longest_names_fit_one_sheet_of_either_size() {
    for name in [&short_name as &dyn Fn(usize) -> String, &|at: usize| LONG[at].to_owned()] {
        let report = patrol(8, name);
        assert_eq!(report.standard.skills.len(), 6);
        let show = report.shown_as(false);
        for (sheet, size) in SHEETS {
            let printed = printed_first_page(&report, &PlanTold::default(), &show, sheet);
            let pages = pages(&printed.bytes);
            assert_eq!((printed.pages, printed.missing.len()), (1, 0));
            is_on_paper(&pages, size);
            let text = text_of(&pages);
            for member in &report.members {
                // A long name goes on in the next line, perhaps behind a hyphen.
                let together = |text: &str| text.replace(' ', "");
                assert!(together(&text).contains(&together(&member.learner.name)), "{}: {text}", member.learner.name);
                assert!(text.contains(&flowing(&member.next_in_table())), "{}: {text}", member.next_in_table());
            }
            assert!(!text.contains("stand in the whole report"), "{text}");
            let page = report::first_page(&report, &PlanTold::default(), &show);
            for line in
                page.ready.iter().chain(&page.first).chain(&page.before).chain([&page.title, &page.teach[0].what])
            {
                assert!(text.contains(&flowing(line)), "{line}\n{text}");
            }
            assert!(text.contains(&flowing(&page.teach[0].evidence)), "{text}");
            // Above and below the frame of each page nothing is smaller than 9 points, which is read by lamplight.
            for text in &pages[0].texts {
                let is_frame = text.y < 18.0 || text.y > size.1 - 14.0;
                assert!(text.size > 3.17 || is_frame, "{text:?}");
                assert!(text.y < size.1 - 17.0 || is_frame, "over the foot: {text:?}");
            }
        }
    }
}

#[test]
fn with_the_plan_of_the_evening_eight_members_fit_one_sheet_too_and_all_stand_in_its_table() {
    for name in [&short_name as &dyn Fn(usize) -> String, &|at: usize| LONG[at].to_owned()] {
        let report = patrol(8, name);
        let show = report.shown_as(false);
        let plan = plan_told(Some(&kept(&report, 90, DAY)), &report, &show);
        let planned = plan.planned.as_ref().unwrap();
        assert_eq!(planned.heading, "The plan of 18:30: 90 minutes with 8 members and one laptop");
        for (sheet, size) in SHEETS {
            let printed = printed_first_page(&report, &plan, &show, sheet);
            let pages = pages(&printed.bytes);
            assert_eq!(pages.len(), 1);
            is_on_paper(&pages, size);
            let text = text_of(&pages);
            let taught = report::first_page(&report, &plan, &show).teach;
            let is_taught = text.contains(&flowing(&taught[0].what));
            assert!(
                is_taught || name(0) != short_name(0),
                "the first thing to teach stands on the page itself: {text}"
            );
            // It is handed out alone, so it points to no page behind it.
            assert!(!text.contains("next page") && !text.contains("stand in the whole report"), "{text}");
            assert!(text.contains(&planned.heading) && !text.contains("What to do first"), "{text}");
            assert!(planned.times.iter().all(|time| text.contains(time.as_str())), "{text}");
            for (who, words) in &planned.rows {
                assert!(text.contains(&format!("{who} {}", words.join(" "))), "{who}: {text}");
            }
            for line in planned.notes.iter().chain([&"If lost: stop, stay together".to_owned()]) {
                assert!(text.contains(&flowing(line)), "{line}: {text}");
            }
            for text in &pages[0].texts {
                assert!(text.y < size.1 - 17.0 || text.y > size.1 - 14.0, "over the foot: {text:?}");
            }
        }
        // Behind it the plan stands piece by piece, with what to print before.
        let whole = text_of(&pages(&printed_report(&report, &plan, &show, Sheet::A4).bytes));
        for line in planned.needs.iter().chain(planned.steps.iter().map(|(_, _, text)| text)) {
            assert!(whole.contains(&flowing(line)), "{line}: {whole}");
        }
    }
}

#[test]
fn a_plan_that_is_not_gone_by_is_said_on_the_page_with_its_reason() {
    let report = patrol(8, short_name);
    let show = report.shown_as(false);
    let stored = kept(&report, 90, DAY);
    let told = |stored: &StoredEvening, report: &Report| {
        let plan = plan_told(Some(stored), report, &show);
        assert_eq!(plan.planned, None);
        let page = report::first_page(report, &plan, &show);
        let text = text_of(&pages(&printed_first_page(report, &plan, &show, Sheet::A4).bytes));
        assert!(text.contains(&flowing(page.stale.as_ref().unwrap())) && text.contains("What to do first"), "{text}");
        page.stale.unwrap()
    };
    let other_day = kept(&report, 90, date(2026, 5, 8));
    assert_eq!(told(&other_day, &report), "The plan of 2026-05-08, 18:30 is of another day.");
    let mut fewer = report.clone();
    fewer.members.remove(3);
    assert!(told(&stored, &fewer).contains("1 of those in it is not among the members"), "{}", told(&stored, &fewer));
    let mut other = report.clone();
    other.standard.name = "another".to_owned();
    assert_eq!(told(&stored, &other), "The plan of 18:30 goes by another standard (day-outing).");
    for broken in [
        "",
        "{}",
        "{\"guests\":[],\"slots\":[]}",
        &stored.plan.replacen("\"check\"", "\"sleep\"", 1),
        &stored.plan.replacen("\"minutes\":10", "\"minutes\":0", 1),
    ] {
        assert_ne!(broken, stored.plan);
        let broken = StoredEvening { plan: broken.to_owned(), ..stored.clone() };
        assert_eq!(told(&broken, &report), "The plan of 18:30 cannot be read by this program.", "{}", broken.plan);
    }
    assert_eq!(plan_told(None, &report, &show), PlanTold::default());
}

#[test]
fn of_a_larger_patrol_it_says_how_many_follow_and_stays_one_page() {
    let report = patrol(30, short_name);
    let show = report.shown_as(false);
    for (sheet, size) in SHEETS {
        let pages = pages(&printed_first_page(&report, &PlanTold::default(), &show, sheet).bytes);
        assert_eq!(pages.len(), 1);
        is_on_paper(&pages, size);
        let text = text_of(&pages);
        let shown = report.members.iter().filter(|member| {
            text.contains(&format!("{} ready ", member.learner.name))
                || text.contains(&format!("{} {}", member.learner.name, member.next_in_table()))
        });
        let follow: usize = text
            .split(" more of 30 stand in the whole report")
            .next()
            .unwrap()
            .rsplit(' ')
            .next()
            .unwrap()
            .parse()
            .unwrap();
        assert!(follow < 30 && shown.count() <= 30 - follow, "{text}");
        for line in report::BEFORE_SETTING_OUT {
            assert!(text.contains(&flowing(line)), "{text}");
        }
    }
}

#[test]
fn the_hand_out_begins_with_it_and_so_do_the_text_and_the_page_for_a_browser() {
    let report = patrol(8, short_name);
    for hide in [false, true] {
        let show = report.shown_as(hide);
        let page = report::first_page(&report, &PlanTold::default(), &show);
        let whole = pages(&printed_report(&report, &PlanTold::default(), &show, Sheet::A4).bytes);
        let alone = pages(&printed_first_page(&report, &PlanTold::default(), &show, Sheet::A4).bytes);
        let told =
            |page: &crate::Page| text_of(std::slice::from_ref(page)).replace(&format!("page 1 of {}", whole.len()), "");
        assert_eq!(told(&whole[0]), told(&alone[0]).replace("page 1 of 1", ""), "the same page");
        let text = report::text(&report, &PlanTold::default(), &show).join("\n");
        assert!(text.starts_with(&report::text_first_page(&report, &PlanTold::default(), &show).join("\n")), "{text}");
        let html = report::html(&report, &PlanTold::default(), &show);
        let (text, html) = (flowing(&text), flowing(&html.replace("&lt;", "<")));
        for line in page.ready.iter().chain(&page.first).chain(&page.before) {
            assert!(text.contains(&flowing(line)) && html.contains(&flowing(line)), "{line}\n{text}");
        }
        for member in &report.members {
            assert_eq!(text.contains(&member.learner.name), !hide);
            let next = flowing(&member.next_words());
            assert!(text.contains(&next) && html.contains(&next), "{next}\n{text}");
        }
    }
}

#[test]
fn who_is_ready_for_what_is_said_also_where_nobody_is() {
    let mut report = camp();
    let show = |name: &str| name.to_owned();
    assert!(
        report::first_page(&report, &PlanTold::default(), &show).ready[0]
            .starts_with("Nobody is ready for Day outing yet")
    );
    for member in &mut report.members {
        member.next = NextStep::Nothing;
        member.cells.iter_mut().for_each(|cell| {
            cell.readiness = Readiness::Ready { since: DAY, until: date(2026, 8, 9) };
        });
    }
    report.teach.clear();
    let page = report::first_page(&report, &PlanTold::default(), &show);
    assert!(page.ready[0].starts_with("Ready for Day outing, at the laptop and on the ground: "), "{:?}", page.ready);
    assert_eq!(page.first, ["All are ready, at the laptop and on the ground: the leader decides."]);
}

#[test]
fn from_the_command_line_it_comes_alone_as_text_and_on_paper_for_its_owner_alone() {
    let house = House::new();
    assert_eq!(house.run(&["patrol", "add", "Ana Tarn"]).code, 0);
    let words = ["report", "--first-page", "--date", "2026-11-25"];
    let text = house.run(&words).out;
    assert!(
        text.contains("  Ana Tarn: practise ")
            && text.contains("What to do first")
            && !text.contains("level 3: not checked"),
        "{text}"
    );
    let (bytes, told) = print(&house, &words);
    assert!(told.starts_with("out.pdf: the first page of the report, 1 page."), "{told}");
    assert!(text_of(&pages(&bytes)).contains("Ana Tarn"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(house.home().join("out.pdf")).unwrap();
        assert_eq!(about.permissions().mode() & 0o777, 0o600);
    }
    let nobody = print(&House::new(), &words).0;
    assert!(text_of(&pages(&nobody)).contains("Nobody is here yet."));
    assert!(house.refused(&["report", "--first-page", "--format", "csv"]).contains("--first-page"));
    assert!(house.refused(&["report", "--first-page", "--wall"]).contains("--wall"));
}

#[test]
fn the_plan_of_an_evening_and_the_table_name_the_same_next_step_for_each() {
    let report = patrol(8, short_name);
    let evening = Evening::plan(&report, 240, |_| true).unwrap();
    for (at, (guest, member)) in evening.guests.iter().zip(&report.members).enumerate() {
        let jobs = || evening.slots.iter().map(|slot| slot.jobs[at]);
        assert_eq!(guest.check.is_some(), member.next.is_check(), "{:?}", member.next);
        assert!(member.next.is_check() || jobs().all(|job| job != Job::Check), "{:?}", member.next);
        let skill = match member.next {
            NextStep::Practise(skill) => Some(skill.id),
            _ => None,
        };
        assert_eq!(guest.not_met.map(|skill| skill.id), skill);
        assert!(
            skill.is_none() || jobs().any(|job| job == Job::Practice),
            "{:?} in {:?}",
            member.next,
            jobs().collect::<Vec<_>>()
        );
    }
    // From a store: somebody new is practised with first, by both and by the first page.
    let house = House::new();
    assert_eq!(house.run(&["patrol", "add", "Ana Tarn"]).code, 0);
    let told = |words: &[&str]| flowing(&house.run(&[words, &["--date", "2026-11-25"]].concat()).out);
    let (plan, page) = (told(&["evening"]), told(&["report", "--first-page"]));
    let skill = page.split("Ana Tarn: practise ").nth(1).unwrap().split(", then a check").next().unwrap().to_owned();
    assert!(plan.contains(&format!("Ana Tarn practises ({skill} is not met yet, so no check)")), "{skill}: {plan}");
    assert!(page.contains(&format!("then check: {skill} with Ana.")), "{page}");
}

#[test]
fn a_plan_that_was_kept_is_printed_as_text_and_on_the_first_page_of_the_hand_out() {
    let house = House::new();
    for name in ["Ana Tarn", "Bo Fell", "Cai Moor"] {
        assert_eq!(house.run(&["patrol", "add", name]).code, 0);
    }
    let day = ["--date", "2026-11-25"];
    let on_day = |words: &[&str]| house.run(&[words, &day].concat());
    let none = on_day(&["evening", "--kept"]);
    assert_eq!((none.code, none.out.as_str()), (1, ""));
    assert!(none.err.contains("no plan is kept") && none.err.contains("--keep"), "{}", none.err);
    let made = on_day(&["evening", "--minutes", "60"]).out;
    assert_eq!(on_day(&["evening", "--kept"]).code, 1, "a plan that was only looked at is not kept");
    let kept = on_day(&["evening", "--minutes", "60", "--keep"]).out;
    assert!(kept.starts_with(&made) && kept.contains("This plan is kept"), "{kept}");
    assert_eq!(on_day(&["evening", "--kept"]).out, format!("The plan of today, as it was kept:\n{made}"));
    let again = on_day(&["evening", "--minutes", "30", "--keep"]);
    assert_eq!((again.code, again.out.as_str()), (1, ""), "what was changed by hand is not lost without a word");
    assert!(again.err.contains("plan of today is kept already") && again.err.contains("--force"), "{}", again.err);
    assert_eq!(on_day(&["evening", "--minutes", "60", "--keep", "--force"]).code, 0);
    let page = on_day(&["report", "--first-page"]).out;
    assert!(page.contains("The plan of today: 60 minutes with 3 members and one laptop"), "{page}");
    // What goes on in a second line stands below what it goes on with.
    assert!(page.contains("\n  10–20   Laptop  "), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    let paper = |words: &[&str]| text_of(&pages(&print(&house, &[words, &day].concat()).0));
    let sheet = paper(&["report", "--first-page"]);
    assert!(sheet.contains("The plan of today: 60 minutes") && sheet.contains("Ana round "), "{sheet}");
    let hidden = paper(&["report", "--initials"]);
    assert!(hidden.contains("A.T. round ") && !hidden.contains("Ana"), "{hidden}");
    // A day later it is printed where it is asked for, with its day; the hand-out says why it is not there.
    let later = house.run(&["evening", "--kept", "--date", "2026-11-26"]);
    assert!(later.out.starts_with("The plan of 2026-11-25, as it was kept:"), "{} {}", later.out, later.err);
    let page = house.run(&["report", "--first-page", "--date", "2026-11-26"]).out;
    assert!(page.contains("The plan of 2026-11-25 is of another day.") && page.contains("What to do first"), "{page}");
    let other = house.run(&["evening", "--kept", "--standard", "camp-evening", "--date", "2026-11-25"]);
    assert!(other.code == 1 && other.err.contains("Say --standard day-outing."), "{}", other.err);
    assert_eq!(house.run(&["patrol", "archive", "Bo Fell"]).code, 0);
    let missing = on_day(&["evening", "--kept"]);
    assert!(missing.code == 1 && missing.err.contains("1 of those in it is not among the members"), "{}", missing.err);
    assert!(house.refused(&["evening", "--kept", "--minutes", "60"]).contains("--minutes"));
}

#[test]
fn what_to_do_when_lost_is_said_alike_on_the_page_and_on_the_cards_of_a_course() {
    assert!(report::BEFORE_SETTING_OUT.contains(&needlewise::course::SAFETY[0]));
}
