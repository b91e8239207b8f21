//! Judging what people really type, through the library's front door.

use needlewise::problem::{
    Answer, AnswerErrorKind, Field, FieldKind, Judgement, Problem, Slip, Tolerance, Value, Verdict, WRONG_NORTH, judge,
    realise,
};
use needlewise::skills::read_code;

fn problem(code: &str) -> Problem {
    realise(&read_code(code).unwrap()).unwrap()
}

/// A problem of `true-magnetic` whose right answer is an ordinary whole number of degrees magnetic.
fn ask(wanted: impl Fn(f64) -> bool) -> (String, f64) {
    for seed in 0..10_000 {
        let code = format!("B2-2-{seed}-v2");
        let problem = problem(&code);
        let right = match problem.answer().values() {
            [Value::Angle(angle)] => angle.degrees(),
            other => panic!("one bearing expected, not {other:?}"),
        };
        let magnetic = problem.question().fields()[0].label.starts_with("magnetic");
        if magnetic && right.fract() == 0.0 && wanted(right) {
            return (code, right);
        }
    }
    panic!("no such problem");
}

fn judged(code: &str, text: &str) -> Result<Judgement, AnswerErrorKind> {
    judge(&problem(code), &[text]).map_err(|error| error.kind)
}

fn verdict(code: &str, text: &str) -> Verdict {
    judged(code, text).unwrap_or_else(|error| panic!("{text:?}: {error}")).verdict
}

#[test]
fn a_right_number_is_right_in_every_way_of_writing_it() {
    let (code, right) = ask(|right| (10.0..90.0).contains(&right));
    for text in [
        format!("{right}"),
        format!("{right:03}"),
        format!("{right:03}°"),
        format!("{right} deg"),
        format!("{right:.1}"),
        format!("{right:03}M"),
        format!("{right:03}° M"),
        format!("{right:03} magnetic"),
        format!("N{right}E"),
        format!("  {right}  "),
        format!("{},0", right),
    ] {
        assert_eq!(verdict(&code, &text), Verdict::Right, "{text:?}");
    }
}

#[test]
fn the_letter_of_another_north_is_the_mixup_wrong_north() {
    let (code, right) = ask(|_| true);
    for letter in ["T", "G", " true", " grid"] {
        assert_eq!(verdict(&code, &format!("{right:03}{letter}")), Verdict::Mixup(&WRONG_NORTH), "{letter}");
    }
}

#[test]
fn a_wrong_letter_is_shown_as_it_was_typed() {
    let (code, right) = ask(|_| true);
    let problem = problem(&code);
    for (letter, shown) in [("t", 'T'), (" grid", 'G'), ("m", 'M'), ("", 'M')] {
        let judged = judge(&problem, &[&format!("{right}{letter}")]).unwrap();
        assert_eq!(judged.words(problem.question()), format!("{right:03}° {shown}"), "{letter:?}");
    }
}

#[test]
fn a_map_oriented_from_the_lines_south_end_is_right_and_told_why() {
    for (code, dial) in [("D2-1-1-v4", "196"), ("D1-1-1-v4", "180"), ("D3-3-1-v4", "188")] {
        let problem = problem(code);
        let judged = judge(&problem, &[dial, "0", "north"]).unwrap();
        assert_eq!(judged.verdict, Verdict::Right, "{code}");
        let told = problem.other_way(&judged.given).expect("another way").headline();
        assert!(told.starts_with("Right, in another way: your travel arrow lay toward the line's south end"), "{told}");
        assert!(told.ends_with("so the dial's N points the same way as with the arrow to its north end."), "{told}");
        // With the needle's south end, or upside down, it is as wrong as ever.
        assert_ne!(judge(&problem, &[dial, "0", "south"]).unwrap().verdict, Verdict::Right, "{code}");
        assert_ne!(judge(&problem, &[dial, "180", "north"]).unwrap().verdict, Verdict::Right, "{code}");
    }
}

#[test]
fn a_quarter_or_half_of_the_circle_off_is_never_a_matter_of_digits() {
    // 130 for 310, 210 for 120: digits exchanged, too, but nobody would see it as that.
    for (wanted, typed) in [(120.0, "210"), (230.0, "320"), (310.0, "130")] {
        for seed in 0..20_000 {
            let problem = problem(&format!("B2-2-{seed}-v2"));
            if problem.answer().values() == [Value::degrees(wanted)] {
                let found = judge(&problem, &[typed]).unwrap().verdict;
                assert!(!matches!(found, Verdict::Unrecognised(Some(_))), "{typed} for {wanted}: {found:?}");
                break;
            }
        }
    }
}

#[test]
fn numbers_off_the_dial_are_a_message_and_no_verdict() {
    let (code, _) = ask(|right| (30.0..300.0).contains(&right));
    for text in ["361", "-11", "−11", "1000"] {
        assert!(matches!(judged(&code, text), Err(AnswerErrorKind::OffCircle(_, 360))), "{text}");
    }
}

#[test]
fn a_point_off_the_map_is_a_message_and_no_verdict() {
    let mut tried = 0;
    for seed in 0..20 {
        let code = format!("F1-2-{seed}-v3");
        let Ok(code) = read_code(&code).map(|_| code) else { continue };
        let Value::Point(right) = problem(&code).answer().values()[0] else { continue };
        tried += 1;
        // A hundred kilometres away is no slip; in the wrong square of the map is one.
        let far = format!("{} {}", right.east_m + 100_000.0, right.north_m);
        assert_eq!(judged(&code, &far), Err(AnswerErrorKind::OffMap), "{code}");
        let there = format!("{} {}", right.east_m, right.north_m);
        assert_eq!(verdict(&code, &there), Verdict::Right, "{code}");
    }
    assert!(tried >= 10, "only {tried} points");
}

#[test]
fn a_number_too_large_for_an_angle_is_repeated_as_it_was_typed() {
    let (code, _) = ask(|right| (30.0..300.0).contains(&right));
    for (text, said) in [
        ("999.9", "999.9"),
        ("1000.1", "1000.1"),
        ("99999999", "99999999"),
        ("-99999999", "−99999999"),
        (" 99999999.25T ", "99999999.25T"),
        ("9999999999999999999999999999999999999999", "9999999999999999999999999999999999999999"),
    ] {
        let error = judged(&code, text).unwrap_err().to_string();
        assert_eq!(error, format!("{said} is not on the dial; numbers go from 0 to 360"));
    }
    // The degrees of a diagram's margin stand in a field of their own.
    let degrees = FieldKind::Degrees;
    let field = Field { name: "degrees", label: "degrees", kind: degrees, tolerance: Tolerance::EXACT };
    assert!(field.check("99999999").unwrap_err().to_string().starts_with("that is too far"));
    assert!(field.check("1341").is_ok());
}

#[test]
fn nothing_rubbish_and_a_megabyte_are_messages_and_no_verdict() {
    let (code, _) = ask(|_| true);
    for text in ["", "   ", "forty", "65 and more", "65;", "6 5", "0x41", "1e2", "NaN", "inf", "65\u{1b}[31m", "\u{7f}"]
    {
        assert!(judged(&code, text).is_err(), "{text:?} was judged");
    }
    let long = "6".repeat(1_000_000);
    let error = judged(&code, &long).unwrap_err();
    assert!(matches!(error, AnswerErrorKind::TooLong));
    assert!(error.to_string().len() < 100, "the answer is not quoted back");
}

#[test]
fn slips_of_arithmetic_are_told_apart_from_mixups() {
    // Ten and a hundred off, and 147 for 174, on a number where nothing else fits.
    let (code, right) = ask(|right| right > 120.0 && right < 250.0 && right % 100.0 / 10.0 != right % 10.0);
    let problem = problem(&code);
    let listed = |number: f64| {
        let answer = Answer::one(Value::degrees(number));
        problem.mixups().iter().any(|mixup| problem.question().same(&answer, &mixup.answer))
    };
    for (off, slip) in [(10.0, Slip::Ten), (-10.0, Slip::Ten), (100.0, Slip::Hundred), (-100.0, Slip::Hundred)] {
        if !listed(right + off) {
            let found = verdict(&code, &format!("{}", right + off));
            assert!(
                found == Verdict::Unrecognised(Some(slip)) || found == Verdict::Unrecognised(None),
                "{right} {off}: {found:?}"
            );
        }
    }
    let (code, right) = ask(|right| right == 174.0);
    assert_eq!(right, 174.0);
    assert_eq!(verdict(&code, "147"), Verdict::Unrecognised(Some(Slip::DigitsExchanged)));
    assert_eq!(verdict(&code, "274"), Verdict::Unrecognised(Some(Slip::Hundred)));
    assert_eq!(verdict(&code, "184"), Verdict::Unrecognised(Some(Slip::Ten)));
}

#[test]
fn the_distance_from_right_is_told_with_its_sign_the_short_way_round() {
    let (code, right) = ask(|right| (1.0..90.0).contains(&right));
    let off = |text: String| judged(&code, &text).unwrap().off_by[0].unwrap();
    assert_eq!(off(format!("{}", right + 7.0)), 7.0);
    assert_eq!(off(format!("{}", right + 260.0)), -100.0);
}

#[test]
fn codes_that_are_not_codes_say_which_part_is_wrong() {
    for (text, part) in [
        ("", "looks like"),
        ("B2", "looks like"),
        ("Z9-1-1", "Z9"),
        ("B2-9-1", "level 9"),
        ("B2-1-x", "x is not the number"),
        ("B2-1--5-v2", ""),
        ("B2-1-5-v7", "generation 7"),
        ("B2-1-5-v2-99", "looks like"),
        ("B2-1-5-v2-QQ-1E", "QQ"),
        ("B2-1-99999999999999999999999", "not the number"),
        (&"B".repeat(1_000_000), "looks like"),
    ] {
        match read_code(text) {
            Ok(code) => assert_eq!(text, "B2-1--5-v2", "{code} was read"),
            Err(error) => assert!(error.to_string().contains(part), "{text:.40}: {error}"),
        }
    }
}

#[test]
fn a_code_is_printed_with_its_generation_however_it_was_written() {
    for (written, printed) in [
        ("e5 3 4821", "E5-3-4821-v1"),
        ("E5-3-4821-v1", "E5-3-4821-v1"),
        ("e5 3 4821 V1", "E5-3-4821-v1"),
        // To the minute, written in hundredths: 13°44′ is 13.73.
        ("b2-3-4821-v2-13.74w-1.2e", "B2-3-4821-v2-13.73W-1.2E"),
        ("b2-3-4821-v2-0e-0.25w", "B2-3-4821-v2-0.0E-0.25W"),
    ] {
        assert_eq!(read_code(written).unwrap().to_string(), printed, "{written}");
    }
    for first in ["D1-2-366047-v1", "C4-3-2154-v1", "B2-1-5"] {
        assert!(read_code(first).unwrap_err().to_string().contains("generation 1"), "{first}");
    }
    // Codes of version 0.1.0 named no generation; some skills were in their second then.
    assert!(read_code("c4-3-2154").unwrap_err().to_string().contains("generation 2"));
}
