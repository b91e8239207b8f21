//! Every message, as a leader reads it, kept in one table: `snapshots/errors/courses.snap`.

use super::{GOOD, LEGS, read};
use std::path::Path;

/// Parts of the good files that are changed.
const CHANGED: [(&str, &str, &str); 33] = [
    (GOOD, "title", "titel"),
    (GOOD, "title = \"Round the tarn\"\n", ""),
    (GOOD, "2026-11-28", "\"the 28th\""),
    (GOOD, "\"8 W\"", "\"8\""),
    (GOOD, "\"8 W\"", "\"modle\""),
    (GOOD, "date = 2026-11-28\ndeclination = \"8 W\"\nyear = 2022\nannual_change = \"9' E\"", "date = 2031-01-01"),
    (GOOD, "declination = \"8 W\"\n", ""),
    (GOOD, "year = 2022", "gm_angle = \"7 W\""),
    (GOOD, "[\"grid\"]", "[\"gird\"]"),
    (GOOD, "\"16:30\"", "\"half past four\""),
    (GOOD, "round = true", "round = \"yes\""),
    (GOOD, "round = true", "start = \"46.8, -28.6\""),
    (GOOD, "\"26T 378400 5184560\"", "\"NN 166 712\""),
    (GOOD, "\"26T 378400 5184560\"", "\"46.8000, -28.6000\""),
    (GOOD, "ascent_m = 40", "ascent_m = -4"),
    (GOOD, "place = \"46.8000, -28.6000\"\n", ""),
    (GOOD, "[[member]]\nname = \"Ana\"", "[member]\nname = \"Ana\""),
    (GOOD, "name = \"Bo\"", "name = \"Ana\""),
    (GOOD, "double_paces = 65", "metres = 65"),
    (GOOD, "by = \"Ana\"", "by = \"Anna\""),
    (GOOD, "\"sighted\"", "\"sigthed\""),
    (GOOD, "[60, \"160 M\", \"-\"]", "[60, \"160 M\"]"),
    (GOOD, "\"160 M\"", "\"160 T\""),
    (GOOD, "\"160 M\"", "\"461\""),
    (GOOD, "\"160 M\"", "\"north-ish\""),
    (GOOD, "\"12 m, 230 M\"", "\"12 paces\""),
    (LEGS, "\"040 M\"", "\"040\""),
    (LEGS, "\"040 M\"", "\"400 M\""),
    (LEGS, "\"040 M\"", "\"forty\""),
    (LEGS, "metres = 60\n", ""),
    (LEGS, "metres = 60.5", "metres = 0"),
    (LEGS, "start", "round = true\nstart"),
    (LEGS, "[[leg]]\nto", "[[point]]\nplace = \"46.8, -28.6\"\n[[leg]]\nto"),
];

/// Other texts altogether.
const TEXTS: [(&str, &str); 3] = [
    ("nothing", " \n"),
    ("a title only", "title = \"Tarn\"\n"),
    ("one point", "title = \"Tarn\"\n[[point]]\nname = \"Hut\"\nplace = \"46.8, -28.6\"\n"),
];

#[test]
fn every_message_says_what_is_wrong_and_what_to_do() {
    let mut kept = String::new();
    let changed = CHANGED.iter().map(|(good, from, to)| {
        assert!(good.contains(from), "{from}");
        (format!("{from:?} is written {to:?}"), good.replacen(from, to, 1))
    });
    let texts = TEXTS.iter().map(|(what, text)| ((*what).to_owned(), (*text).to_owned()));
    for (what, text) in changed.chain(texts) {
        let error = read(&text).expect_err(&what);
        let plain = error.render(false);
        assert!(plain.contains("help: "), "{what} does not say what to do:\n{plain}");
        assert!(!kept.contains(&format!("## {what}\n")), "{what} stands there twice");
        kept += &format!("## {what}\n\n{plain}\n\n");
    }
    insta::with_settings!({
        snapshot_path => Path::new(env!("CARGO_MANIFEST_DIR")).join("snapshots/errors"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!("courses", kept) });
}
