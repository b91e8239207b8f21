//! What a reader sees in the picture: the figure of a question agrees with the facts and gives no answer away.

use super::facts::{Dir, EXACT, Facts};
use super::norths::PRINTED;
use super::shown::{Shown, tokens};
use needlewise::angle::{Angle, North};
use needlewise::problem::{
    Arc, BoldLine, DialFigure, Figure, LineRole, MapFigure, MapTool, NorthLine, PlanFigure, PlanKind, Prong, Ray,
    SketchLine,
};

fn same(facts: &Facts, what: &str, drawn: f64, told: f64) {
    assert!(Dir::at(drawn).turn_to(Dir::at(told)).abs() < EXACT, "{}: {what} {drawn}, not {told}", facts.code);
}

/// Compares the question's figure with the facts; the prompt is needed where text and picture must fit together.
pub fn look(facts: &Facts, prompt: &str, figure: &Figure) {
    match figure {
        Figure::None => {
            let picture = ["index_in_picture_deg", "needle_north_end_at_deg", "needle_clockwise_of_index_deg"];
            assert!(picture.iter().all(|name| !facts.all.contains_key(*name)), "{}: nothing is drawn", facts.code);
        }
        Figure::Dial(dial) => look_at_dial(facts, prompt, dial),
        Figure::Prongs(prongs) => look_at_prongs(facts, prongs),
        Figure::Sketch { norths, lines, arcs } => look_at_sketch(facts, norths, lines, arcs),
        Figure::Turn(turn) => {
            same(facts, "from", turn.from.degrees(), facts.number("start_magnetic_bearing_deg"));
            same(facts, "to", turn.to.degrees(), facts.number("end_magnetic_bearing_deg"));
            assert_eq!(turn.north, North::Magnetic, "{}: both bearings are magnetic", facts.code);
            assert!(turn.turn.is_none() && turn.learner.is_none(), "{}: the answer is drawn", facts.code);
        }
        Figure::Ends(ends) => {
            let bearing = facts.number("bearing_deg");
            same(facts, "the line", ends.toward.degrees(), bearing);
            let letter = ends.north.letter();
            assert_eq!(tokens(&ends.there)[0].shown, Shown::Bearing(bearing, letter), "{}", facts.code);
            assert_eq!(
                (ends.north.word(), &ends.back),
                (facts.word("north"), &format!("? {letter}")),
                "{}",
                facts.code
            );
            assert!(ends.learner.is_none(), "{}: an answer is drawn", facts.code);
        }
        Figure::Drift(drift) => {
            let (printed, told) = (&drift.printed, facts.number("printed_declination_deg"));
            assert!(drift.now.is_none(), "{}: the answer is drawn", facts.code);
            assert!(printed.at.degrees() * told > 0.0, "{}: {told} is drawn at {:?}", facts.code, printed.at);
            assert_eq!(tokens(&printed.declination)[0].shown, Shown::East(told), "{}", facts.code);
            assert_eq!(f64::from(printed.year), facts.number("printed_year"), "{}", facts.code);
        }
        Figure::Plan(plan) => look_at_plan(facts, prompt, plan),
        Figure::Map(map) => look_at_map(facts, map),
        Figure::Rose { names, marked } => {
            assert_eq!(f64::from(*names), facts.number("names_on_card"), "{}", facts.code);
            assert!(marked.is_empty(), "{}: the answer is marked", facts.code);
        }
    }
}

/// A plan that says no more than the text carries no other number than it, and nobody's answer.
fn look_at_plan(facts: &Facts, prompt: &str, plan: &PlanFigure) {
    let answered = [LineRole::Right, LineRole::Learner];
    let places = plan.places.iter().any(|place| answered.contains(&place.role));
    assert!(
        !places && !answered.iter().any(|role| plan.lines.iter().any(|line| line.kind == PlanKind::Way(*role))),
        "{}: the answer is drawn",
        facts.code
    );
    if plan.says_more {
        return look_at_what_the_text_leaves(facts, plan);
    }
    let told = tokens(prompt);
    let written = plan.lines.iter().map(|line| &line.label).chain(plan.places.iter().map(|place| &place.name));
    for text in written.chain([&plan.words]) {
        for token in tokens(text) {
            let known = told.iter().any(|told| told.shown == token.shown);
            assert!(known, "{}: {:?} of {text:?} stands not in: {prompt}", facts.code, token.shown);
        }
    }
}

/// What only the plan tells lies where the facts say, and is told to who hears it.
fn look_at_what_the_text_leaves(facts: &Facts, plan: &PlanFigure) {
    if let (Some(east), Some(north)) = (facts.maybe("east_of_line_m"), facts.maybe("north_of_line_m")) {
        let [place] = &plan.places[..] else { panic!("{}: one place expected", facts.code) };
        assert_eq!((place.at.east_m, place.at.north_m), (east, north), "{}", facts.code);
        for line in ["east_line", "north_line"].map(|name| facts.number(name)) {
            let labelled = |number: f64| plan.lines.iter().any(|line| line.label == format!("{number}"));
            assert!(labelled(line) && labelled(line + 1.0), "{}: {line}", facts.code);
        }
        return;
    }
    if plan.lines.iter().any(|line| line.kind == PlanKind::Contour) {
        return super::heights::look(facts, plan);
    }
    for place in ["first", "second", "third", "fourth", "fifth"] {
        let name = facts.word(&format!("{place}_feature"));
        let drawn = plan.lines.iter().filter(|line| line.label == name).count()
            + plan.places.iter().filter(|place| place.name == name).count();
        assert!(drawn == 1 && plan.words.contains(&format!("A {name} ")), "{}: {name} {}", facts.code, plan.words);
    }
}

/// The marks stand where the facts say, the lines run where they say, and no answer is drawn.
fn look_at_map(facts: &Facts, map: &MapFigure) {
    let given = map.rays.iter().all(|ray| ray.role == LineRole::Given)
        && map.places.iter().all(|it| it.role == LineRole::Given);
    assert!(given && map.cross.is_none(), "{}: an answer is drawn", facts.code);
    if let Some(tool) = &map.tool {
        look_at_tool(facts, map, tool);
    } else if let Some(protractor) = map.protractor {
        let (from, to) = (map.rays[0].from, map.rays[0].to);
        let line = (to.easting_m - from.easting_m).atan2(to.northing_m - from.northing_m).to_degrees();
        same(facts, "the line", protractor.toward.degrees(), line);
        assert_eq!(protractor.at, from, "{}: its middle lies not on A", facts.code);
        assert_eq!(protractor.half, facts.word("protractor") == "half circle", "{}", facts.code);
        same(facts, "the sheet", map.turn.degrees(), facts.number("sheet_turn_deg"));
    } else {
        assert!(map.rays.is_empty() && map.places.is_empty(), "{}: something is drawn", facts.code);
    }
    let told = ["mark", "from", "to", "first", "second", "third", "fourth"].into_iter().filter_map(|name| {
        Some((facts.maybe(&format!("{name}_easting_m"))?, facts.maybe(&format!("{name}_northing_m"))?))
    });
    let told: Vec<(f64, f64)> = told.collect();
    assert_eq!(map.marks().count(), told.len(), "{}: marks", facts.code);
    for ((east, north), (_, at)) in told.into_iter().zip(map.marks()) {
        let near = (east - at.easting_m).abs() <= 0.5 && (north - at.northing_m).abs() <= 0.5;
        assert!(near, "{}: a mark is drawn at {at:?}, not at {east} {north}", facts.code);
    }
    let lines = ["line_corners", "second_line_corners"].into_iter().filter(|name| facts.all.contains_key(*name));
    let lines: Vec<String> = lines.map(|name| facts.word(name).to_owned()).collect();
    let corners = |line: &BoldLine| {
        let corners = line.corners.iter().map(|at| format!("{} {}", at.easting_m, at.northing_m));
        corners.collect::<Vec<String>>().join(", ")
    };
    let drawn: Vec<String> = map.lines.iter().map(corners).collect();
    assert_eq!(drawn, lines, "{}: bold lines", facts.code);
}

/// Nothing is laid yet; A and B stand where the facts say.
fn look_at_tool(facts: &Facts, map: &MapFigure, tool: &MapTool) {
    assert!(map.rays.is_empty(), "{}: something is drawn", facts.code);
    let words = Figure::Map(Box::new(map.clone())).in_words().expect("a map in words");
    match tool {
        MapTool::Romer(romer) => {
            let [a] = &map.places[..] else { panic!("{}: one place expected", facts.code) };
            let lines = ["east_line", "north_line"].map(|name| facts.number(name) * 1000.0);
            let beyond = ["east_of_line_m", "north_of_line_m"].map(|name| facts.number(name));
            assert_eq!([romer.square.easting_m, romer.square.northing_m], lines, "{}", facts.code);
            let at = [a.at.easting_m, a.at.northing_m];
            assert_eq!(at, [lines[0] + beyond[0], lines[1] + beyond[1]], "{}", facts.code);
            assert!(romer.corner.is_none(), "{}: it is laid already", facts.code);
            for (line, beyond) in lines.into_iter().zip(beyond) {
                let tenth = (beyond / 100.0).floor();
                let told = format!("between its marks {tenth} and {}", tenth + 1.0);
                assert!(words.contains(&format!("rid line {}", line / 1000.0)) && words.contains(&told), "{words}");
            }
        }
        MapTool::PaperEdge(edge) => {
            let [a, b] = &map.places[..] else { panic!("{}: two places expected", facts.code) };
            let ends = [edge.path.first(), edge.path.last()].map(|end| end.copied().expect("a path"));
            assert_eq!([a.at, b.at], ends, "{}", facts.code);
            assert_eq!(edge.path, map.lines[0].corners, "{}: another path is measured", facts.code);
            assert!(edge.at.is_none() && edge.ticks.is_empty() && !edge.held, "{}: it is laid already", facts.code);
            let all = super::measure::path_m(facts).round();
            assert!(!words.contains(&format!("{all}")), "{}: {words}", facts.code);
            let (km, tenth) = ((all / 1000.0).floor(), (all % 1000.0 / 100.0).floor());
            let right = if km == 0.0 { "at the zero".to_owned() } else { format!("the line for {km} km") };
            let left = format!("between short lines {tenth} and {}", tenth + 1.0);
            // A length within half a metre of a tenth may be told by the tenth beside it.
            let near = (all % 100.0 - 50.0).abs() > 49.0;
            assert!(near || words.contains(&right) && words.contains(&left), "{}: {all} {words}", facts.code);
        }
    }
}

fn look_at_dial(facts: &Facts, prompt: &str, dial: &DialFigure) {
    let reading = dial.reading.degrees();
    assert!(dial.strip && dial.learner.is_none(), "{}", facts.code);
    if let Some(every) = facts.maybe("number_every_deg") {
        let tick = every / facts.number("spaces_between_numbers");
        assert!((dial.graduation.degrees() - tick).abs() < EXACT, "{}: ticks of {:?}", facts.code, dial.graduation);
        assert!((dial.numbered.degrees() - every).abs() < EXACT, "{}: numbers", facts.code);
    }
    let index = dial.index.degrees();
    same(facts, "index", index, facts.maybe("index_in_picture_deg").unwrap_or(0.0));
    assert_eq!(prompt.contains("held upside down to you"), index == 180.0, "{}", facts.code);
    if let Some(start) = facts.maybe("start_reading_deg") {
        same(facts, "reading", reading, start);
    } else {
        let tick = facts.number("number_every_deg") / facts.number("spaces_between_numbers");
        let told = facts.number("number_below_index_deg") + tick * facts.number("ticks_above_number");
        same(facts, "reading", reading, told);
        assert!(facts.number("ticks_above_number") < facts.number("spaces_between_numbers"), "{}", facts.code);
    }
    let needle = dial.needle.map(Angle::degrees);
    if let Some(told) = facts.maybe("needle_north_end_at_deg") {
        // Numbers grow clockwise: the number at a place of the picture is the reading and the way there from the index.
        same(facts, "needle", reading + needle.expect("a needle") - index, told);
    }
    if let Some(told) = facts.maybe("needle_clockwise_of_index_deg") {
        same(facts, "needle", needle.expect("a needle") - index, told);
    }
    assert_eq!(dial.inner_scale, facts.maybe("inner_scale_at_index_deg").is_some(), "{}", facts.code);
    assert_eq!(dial.inner_scale, prompt.contains("second scale"), "{}", facts.code);
    if let Some(inner) = facts.maybe("inner_scale_at_index_deg") {
        // A clinometer scale: the slope is what the index lies off the dial's east-west line.
        let off = Dir::at(reading).north.abs().asin().to_degrees();
        assert!((inner - off).abs() < EXACT, "{}: inner scale {inner}, not {off}", facts.code);
    }
}

fn look_at_prongs(facts: &Facts, prongs: &[Prong]) {
    let drawn = |north: North| prongs.iter().find(|prong| prong.north == north).map(|prong| prong.drawn.degrees());
    let north = |head: &str| match head {
        "star" => North::True,
        "GN" => North::Grid,
        _ => North::Magnetic,
    };
    for (name, fact, [from, to]) in PRINTED {
        let (fact, from, to) = (facts.maybe(fact), north(from), north(to));
        let mut printed = prongs.iter().filter_map(|prong| {
            let (other, text) = prong.printed.as_ref()?;
            let pair = (prong.north, *other);
            (pair == (from, to) || pair == (to, from)).then_some(text)
        });
        match (printed.next().map(|text| tokens(text)[0].shown), fact) {
            (Some(shown), Some(fact)) => assert_eq!(shown, Shown::Size(fact), "{}: {name}", facts.code),
            (printed, fact) => assert!(printed.is_none() && fact.is_none(), "{}: {name} {printed:?}", facts.code),
        }
        assert!(printed.next().is_none(), "{}: {name} is printed twice", facts.code);
        if facts.word("wanted") == name {
            let (from, to) = (drawn(from).expect("a prong"), drawn(to).expect("a prong"));
            let measured = (to - from).abs();
            assert!((facts.number("drawn_angle_deg") - measured).abs() < EXACT, "{}: drawn {from} {to}", facts.code);
        }
        if let (Some(from), Some(to)) = (drawn(from), drawn(to)) {
            assert!((to - from).abs() >= 5.0, "{}: one prong hides behind another", facts.code);
        }
    }
    // The prongs stand in the order of the facts: that is where east and west are read.
    let mut by_place: Vec<&Prong> = prongs.iter().collect();
    by_place.sort_by(|a, b| a.drawn.degrees().total_cmp(&b.drawn.degrees()));
    let heads: Vec<North> = facts.word("prongs_clockwise").split(", ").map(north).collect();
    assert_eq!(by_place.iter().map(|prong| prong.north).collect::<Vec<_>>(), heads, "{}", facts.code);
    listen_to_prongs(facts, &Figure::Prongs(prongs.to_vec()).in_words().expect("a diagram in words"));
}

/// Who hears the program gets the same: the order of the prongs, and each printed angle between the right two.
fn listen_to_prongs(facts: &Facts, words: &str) {
    let names = [("true north (the star)", "star"), ("grid north (GN)", "GN"), ("magnetic north (MN)", "MN")];
    let heads = |text: &str| {
        let mut heads: Vec<(usize, &str)> =
            names.iter().filter_map(|(name, head)| Some((text.find(name)?, *head))).collect();
        heads.sort_unstable();
        heads.into_iter().map(|(_, head)| head).collect::<Vec<_>>()
    };
    let (order, angles) = words.split_once(". Between").expect("an angle is printed");
    assert_eq!(heads(order).join(", "), facts.word("prongs_clockwise"), "{}: {words}", facts.code);
    let mut told = 0;
    for sentence in angles.split(". Between") {
        let between = heads(sentence);
        let (_, fact, _) = PRINTED
            .into_iter()
            .find(|(_, _, ends)| between.len() == 2 && ends.iter().all(|end| between.contains(end)))
            .unwrap_or_else(|| panic!("{}: {sentence}", facts.code));
        let printed = sentence.split_once(" stands ").expect("a printed angle").1;
        assert_eq!(tokens(printed)[0].shown, Shown::Size(facts.number(fact)), "{}: {words}", facts.code);
        told += 1;
    }
    let printed = PRINTED.iter().filter(|(_, fact, _)| facts.maybe(fact).is_some()).count();
    assert_eq!(told, printed, "{}: {words}", facts.code);
}

fn look_at_sketch(facts: &Facts, norths: &[NorthLine], lines: &[SketchLine], arcs: &[Arc]) {
    assert!(lines.iter().all(|line| line.role == LineRole::Given), "{}: the answer is drawn", facts.code);
    let at = |north: North| norths.iter().find(|line| line.north == north).map(|line| line.at.degrees());
    // The angle between the two norths that are drawn.
    let convergence = facts.maybe("convergence_deg");
    let angle = match at(North::Grid) {
        Some(_) => facts.maybe("grid_magnetic_deg").or_else(|| {
            // What a dial can hold.
            Some((facts.maybe("declination_deg")? - convergence?).round())
        }),
        None => facts.maybe("declination_deg"),
    };
    let angle = angle.filter(|angle| *angle != 0.0);
    let both = norths.len() > 1;
    if let (Some(angle), Some(magnetic), true) = (angle, at(North::Magnetic), both) {
        let other = at(North::True).or(at(North::Grid)).expect("two norths");
        assert_eq!(other, 0.0, "{}", facts.code);
        // Enlarged perhaps, never on the wrong side, never so far that it looks like east or west.
        assert!(magnetic * angle > 0.0 && magnetic.abs() <= 60.0, "{}: {angle} is drawn as {magnetic}", facts.code);
    }
    let bearings = [
        ("start_magnetic_bearing_deg", 'M'),
        ("magnetic_bearing_deg", 'M'),
        ("true_bearing_deg", 'T'),
        ("grid_bearing_deg", 'G'),
    ];
    for (name, letter) in bearings {
        if let Some(bearing) = facts.maybe(name) {
            let [line] = lines else { panic!("{}: one line expected", facts.code) };
            let shown = |text: &str| tokens(text)[0].shown == Shown::Bearing(bearing, letter);
            match arcs {
                [] => assert!(shown(&line.label), "{}: {}", facts.code, line.label),
                // Where the angle must be found or chosen first, only the given bearing is drawn: the other north would
                // tell the side.
                [given] if !both => {
                    let parts = [
                        facts.maybe("declination_deg"),
                        facts.maybe("convergence_deg"),
                        facts.maybe("grid_magnetic_deg"),
                    ];
                    assert!(parts.into_iter().flatten().count() > 1, "{}: the angle is given alone", facts.code);
                    assert!(shown(&given.text) && given.from.letter() == letter, "{}: {}", facts.code, given.text);
                }
                arcs => look_at_conversion(facts, (letter, &shown), angle, arcs),
            }
            if let (Some(angle), Some(magnetic), true) = (angle, at(North::Magnetic), both) {
                // The given bearing, and what it is from the other north; whatever is enlarged, the line is drawn on the
                // side of each north on which it lies.
                let from_map = if letter == 'M' { bearing + angle } else { bearing };
                for (told, drawn) in [(from_map, line.at.degrees()), (from_map - angle, line.at.degrees() - magnetic)] {
                    let (told, drawn) = (Dir::at(told).degrees(), Dir::at(drawn).degrees());
                    // On a north; or, where a dial rounds the angle, beside it by no more than that.
                    let along = told.abs() < EXACT && drawn.abs() < EXACT || convergence.is_some() && told.abs() <= 1.0;
                    let plain = told.abs() > 170.0 || drawn.abs() > 170.0 || told * drawn > 0.0 || along;
                    assert!(plain, "{}: {told} is drawn at {drawn}", facts.code);
                }
            }
        }
    }
}

/// Of the two bearings of a line the given one stands there with its number, the other as a question; what lies between the
/// norths has the number that the text gives.
fn look_at_conversion(
    facts: &Facts,
    (letter, is_given): (char, &dyn Fn(&str) -> bool),
    angle: Option<f64>,
    arcs: &[Arc],
) {
    let mut seen = [0; 3];
    for Arc { from, to, text, .. } in arcs {
        match to {
            Ray::North(_) => {
                assert_eq!(tokens(text)[0].shown, Shown::East(angle.expect("an angle")), "{}: {text}", facts.code);
                seen[0] += 1;
            }
            Ray::Line(_) if from.letter() == letter => {
                assert!(is_given(text), "{}: {text}", facts.code);
                seen[1] += 1;
            }
            Ray::Line(_) => {
                assert_eq!(*text, format!("? {}", from.letter()), "{}: the answer is drawn", facts.code);
                seen[2] += 1;
            }
        }
    }
    assert_eq!(seen, [1; 3], "{}: {arcs:?}", facts.code);
}
