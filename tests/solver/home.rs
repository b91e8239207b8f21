//! Problems on home ground: they show its own angles, all skills the same ones, and none where there is nothing to ask.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::facts::Facts;
use super::norths;
use super::{PROBLEMS, home, skill, walk};
use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::problem::{Code, HomeAngles, Level, ProblemError, Question, realise};
use needlewise::skills::{SKILLS, read_code};

/// Home ground's own declination, convergence and G-M angle stand in its problems.
fn shows_its_own_angles(id: &str) {
    walk(id, PROBLEMS / 5, |problem, facts| {
        let Some(home) = problem.code().home else { return };
        let level = problem.code().level;
        let angles = [
            ("declination_deg", home.declination().angle()),
            ("convergence_deg", home.convergence().angle()),
            ("grid_magnetic_deg", home.grid_magnetic().angle()),
        ];
        let printed = ["star_to_mn_printed_deg", "star_to_gn_printed_deg", "gn_to_mn_printed_deg"];
        for (name, angle) in printed.into_iter().zip(angles.map(|(_, angle)| angle)) {
            if let Some(shown) = facts.maybe(name) {
                assert!((shown - angle.abs().degrees()).abs() < 1e-9, "{}: {name} {shown}", facts.code);
            }
        }
        // What is subtracted is printed to the minute; what stands alone is rounded to the degree, once.
        let exact = facts.maybe("convergence_deg").is_some();
        for (name, angle) in angles {
            if let Some(shown) = facts.maybe(name) {
                let most = if exact { 1e-9 } else { 0.5 + 1e-9 };
                assert!((shown - angle.degrees()).abs() <= most, "{}: {name} {shown}", facts.code);
            }
        }
        if id == "orient-true-line" && level == Level::FOUR && facts.maybe("annual_change_arcmin").is_some() {
            let now = norths::Dated::of(facts).now() as f64 / 60.0;
            assert!((now - home.declination().angle().degrees()).abs() <= 0.5 + 1e-9, "{}: {now}", facts.code);
        }
    });
}

#[test]
fn home_ground_shows_its_own_angles() {
    let at_home: Vec<&str> =
        SKILLS.iter().map(|skill| skill.meta()).filter(|meta| meta.on_home).map(|m| m.id).collect();
    assert!(at_home.len() >= 5, "{at_home:?}");
    at_home.into_iter().for_each(shows_its_own_angles);
}

/// What two skills show of the same home ground must be the same number.
#[test]
fn home_ground_has_one_gm_angle_whichever_skill_shows_it() {
    let mut compared = 0;
    for seed in 0..4_000 {
        let shown = |id: &str, name: &str| {
            let code = Code { skill: skill(id), level: Level::ONE, seed, home: Some(home(seed)) };
            Facts::of(&realise(&code).ok()?).maybe(name).map(f64::abs)
        };
        let angles = [
            shown("diagram", "gn_to_mn_printed_deg").map(norths::on_dial),
            shown("grid-magnetic", "grid_magnetic_deg"),
            shown("orient-grid", "grid_magnetic_deg"),
        ];
        let mut known = angles.into_iter().flatten();
        let first = known.next();
        for other in known {
            assert_eq!(Some(other), first, "seed {seed}: {:?} {angles:?}", home(seed));
            compared += 1;
        }
    }
    assert!(compared > 2_500, "only {compared}");
}

/// Angles so close to nothing that they are shown as 0° or 1°: there is nothing to ask, whatever the seed.
#[test]
fn home_ground_too_near_zero_is_refused() {
    let refused = [
        "D1-1-2-0.3E-1.0W",
        "D1-1-5-1.4W-0.5E",
        "D2-1-0-0.2W-1.0E",
        "D2-3-9-1.4E-3.0E",
        "D3-1-87-1.7W-1.3W",
        "D3-3-3-5.0E-4.0E",
        "B1-1-7-0.3W-0.1E",
        "B1-2-0-0.0E-3.4W",
        "B1-3-4-6.0E-5.0E",
        "B1-4-4-9.0E-0.0E",
        "B2-1-8-1.2E-2.0E",
        "B4-2-8-3.0E-2.4E",
    ];
    for text in refused {
        let code = code(text);
        let id = code.meta().id;
        assert_eq!(realise(&code).err(), Some(ProblemError::NothingToTellApart(id)), "{text}");
    }
    // With nothing else to tell the lines apart another variant is asked, and half a degree is drawn as such.
    let answered = |text: &str| realise(&code(text)).unwrap();
    for seed in 0..30 {
        assert!(!answered(&format!("D1-1-{seed}-1.8E-1.8E")).prompt().contains("Along which of them"), "{seed}");
    }
    let convergence = Facts::of(&answered("B1-2-6-5.2E-0.4W")).maybe("star_to_gn_printed_deg");
    assert!(convergence.is_none_or(|shown| shown == 0.4), "{convergence:?}");
}

/// The code of this text with the generation of today: `D1-1-2-0.3E-1.0W`.
fn code(text: &str) -> Code {
    let mut parts = text.splitn(4, '-');
    let mut next = || parts.next().expect("a part");
    let (mark, level, seed, home) = (next(), next(), next(), next());
    let generation = SKILLS.iter().map(|skill| skill.meta()).find(|meta| meta.mark == mark).unwrap().generation;
    read_code(&format!("{mark}-{level}-{seed}-v{generation}-{home}")).unwrap()
}

#[test]
fn the_angles_of_home_ground_come_back_from_a_code_to_the_minute() {
    for minutes in -1_800..=1_800 {
        let angle = Angle::from_minutes(f64::from(minutes));
        let home = HomeAngles::new(Declination::from_angle(angle), Convergence::from_angle(-angle));
        let code = Code { skill: skill("true-magnetic"), level: Level::THREE, seed: 7, home: Some(home) };
        assert_eq!(read_code(&code.to_string()), Ok(code), "{code}");
    }
    // Tenths are written and read as older codes have them, hundredths where they tell the minutes.
    for home in ["13.7W-1.2E", "26.8W-1.45E", "0.0E-0.02W"] {
        assert!(code(&format!("B2-3-7-{home}")).to_string().ends_with(&format!("-{home}")), "{home}");
    }
}

/// What `north` says of a place is what the problems there say: 28°15′ W at 33.9 S, 18.4 E.
#[test]
fn grid_magnetic_and_orienting_by_the_grid_agree_with_north() {
    let home = HomeAngles::new(Declination::from_degrees(-26.8), Convergence::from_degrees(1.45));
    assert_eq!(home.grid_magnetic().to_string(), "28°15′ W");
    for id in ["grid-magnetic", "orient-grid"] {
        for seed in 0..100 {
            let at = |level| Code { skill: skill(id), level, seed, home: Some(home) };
            let problem = realise(&at(Level::TWO)).unwrap();
            assert!(
                problem.prompt().contains("The G-M angle on home ground, rounded, is 28° W"),
                "{}",
                problem.prompt()
            );
            let problem = realise(&at(Level::THREE)).unwrap();
            if !matches!(problem.question(), Question::Table(_)) {
                let steps = problem.step_lines();
                assert!(steps[0].ends_with("26°48′ + 1°27′ = 28°15′, so 28°15′ W"), "{steps:?}");
                assert!(steps[1].ends_with("28° W"), "{steps:?}");
            }
        }
    }
}
