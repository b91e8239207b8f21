//! Problems on home ground: they show its own angles, all skills the same ones, and none where there is nothing to ask.

use super::facts::Facts;
use super::norths;
use super::{PROBLEMS, home, skill, walk};
use needlewise::problem::{Code, Level, ProblemError, realise};
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
                let most = if name == "gn_to_mn_printed_deg" { 1.0 } else { 0.5 };
                assert!((shown - angle.abs().degrees()).abs() <= most + 1e-9, "{}: {name} {shown}", facts.code);
            }
        }
        for (name, angle) in angles {
            // Rounded to whole or half degrees; a G-M angle that is put together carries two roundings.
            let most = if name == "grid_magnetic_deg" { 1.0 } else { 0.5 };
            if let Some(shown) = facts.maybe(name) {
                assert!((shown - angle.degrees()).abs() <= most + 1e-9, "{}: {name} {shown}", facts.code);
            }
        }
        if id == "orient-true-line" && level == Level::FOUR && facts.maybe("annual_change_arcmin").is_some() {
            let now = norths::Dated::of(facts).now() as f64 / 60.0;
            assert!((now - home.declination().angle().degrees()).abs() <= 0.25 + 1e-9, "{}: {now}", facts.code);
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
            shown("diagram", "gn_to_mn_printed_deg"),
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
        "D1-1-2-v3-0.3E-1.0W",
        "D1-2-5-v3-1.4W-0.5E",
        "D2-1-0-0.2W-1.0E",
        "D2-4-9-1.6E-3.0E",
        "D3-1-87-1.7W-1.3W",
        "D3-4-3-5.0E-4.0E",
        "B1-1-7-0.3W-0.1E",
        "B1-2-0-0.0E-3.4W",
        "B1-3-4-6.0E-5.0E",
        "B1-4-4-9.0E-0.1E",
        "B2-1-8-1.2E-2.0E",
        "B4-2-8-3.0E-2.4E",
    ];
    for text in refused {
        let code = read_code(text).unwrap();
        let id = code.meta().id;
        assert_eq!(realise(&code).err(), Some(ProblemError::NothingToTellApart(id)), "{text}");
    }
    // With nothing else to tell the lines apart another variant is asked, and half a degree is drawn as such.
    let answered = |text: &str| realise(&read_code(text).unwrap()).unwrap();
    assert!(answered("D1-1-1-v3-1.8E-1.8E").prompt().contains("Which number must stand on the dial?"));
    let convergence = Facts::of(&answered("B1-2-6-5.2E-0.4W")).maybe("star_to_gn_printed_deg");
    assert!(convergence.is_none_or(|shown| shown == 0.5), "{convergence:?}");
}
