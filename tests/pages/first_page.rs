//! The first page of the hand-out: one sheet that says who is ready for what and what to do first.

use crate::house::House;
use crate::printed::pages;
use crate::report::{DAY, camp};
use crate::{flowing, is_on_paper, print, text_of};
use jiff::civil::date;
use needlewise::evening::{Evening, Job};
use needlewise::paper::Sheet;
use needlewise::report::{self, NextStep, Report};
use needlewise::session::Readiness;
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
    report.members = (0..many)
        .map(|at| {
            let mut member = models[at % models.len()].clone();
            member.learner.name = name(at);
            member.next = steps[at % steps.len()];
            member
        })
        .collect();
    let names: Vec<String> = report.members.iter().map(|member| member.learner.name.clone()).collect();
    for (at, teach) in report.teach.iter_mut().enumerate() {
        for (part, name) in teach.members.iter_mut().zip(names.iter().skip(at)) {
            part.name = name.clone();
        }
        for (shows, name) in teach.could_show.iter_mut().zip(names.iter().rev()) {
            shows.1 = name.clone();
        }
    }
    report.day_rules =
        vec!["By grid-north lines on 2026-05-09: add 9, since magnetic north lies west there.".to_owned()];
    report
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
            let printed = printed_first_page(&report, &show, sheet);
            let pages = pages(&printed.bytes);
            assert_eq!((printed.pages, printed.missing.len()), (1, 0));
            is_on_paper(&pages, size);
            let text = text_of(&pages);
            for member in &report.members {
                // A long name goes on in the next line, perhaps behind a hyphen.
                let together = |text: &str| text.replace(' ', "");
                assert!(together(&text).contains(&together(&member.learner.name)), "{}: {text}", member.learner.name);
                assert!(text.contains(&flowing(&member.next_words())), "{}: {text}", member.next_words());
            }
            assert!(!text.contains("follow on the next pages"), "{text}");
            let page = report::first_page(&report, &show);
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
fn of_a_larger_patrol_it_says_how_many_follow_and_stays_one_page() {
    let report = patrol(30, short_name);
    let show = report.shown_as(false);
    for (sheet, size) in SHEETS {
        let pages = pages(&printed_first_page(&report, &show, sheet).bytes);
        assert_eq!(pages.len(), 1);
        is_on_paper(&pages, size);
        let text = text_of(&pages);
        let shown = report.members.iter().filter(|member| {
            text.contains(&format!("{} ready ", member.learner.name))
                || text.contains(&format!("{} {}", member.learner.name, member.next_words()))
        });
        let follow: usize =
            text.split(" more of 30 follow").next().unwrap().rsplit(' ').next().unwrap().parse().unwrap();
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
        let page = report::first_page(&report, &show);
        let whole = pages(&printed_report(&report, &show, Sheet::A4).bytes);
        let alone = pages(&printed_first_page(&report, &show, Sheet::A4).bytes);
        let told =
            |page: &crate::Page| text_of(std::slice::from_ref(page)).replace(&format!("page 1 of {}", whole.len()), "");
        assert_eq!(told(&whole[0]), told(&alone[0]).replace("page 1 of 1", ""), "the same page");
        let text = report::text(&report, &show).join("\n");
        assert!(text.starts_with(&report::text_first_page(&report, &show).join("\n")), "{text}");
        let html = report::html(&report, &show);
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
    assert!(report::first_page(&report, &show).ready[0].starts_with("Nobody is ready for Day outing yet"));
    for member in &mut report.members {
        member.next = NextStep::Nothing;
        member.cells.iter_mut().for_each(|cell| {
            cell.readiness = Readiness::Ready { since: DAY, until: date(2026, 8, 9) };
        });
    }
    report.teach.clear();
    let page = report::first_page(&report, &show);
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
