//! F1, one bearing and a line of the land: somebody stands on a path or by a stream, sights one mark, and finds where the line
//! drawn back from the mark meets the path.

mod meta;

use super::amounts::HAZARD;
use super::common::{APPLIED_TWICE, InTenths, NOT_APPLIED, SIGN_FLIPPED, bearing_of, wrap};
use super::fixes::{
    Ground, SIGHTED_MM, answer, drawn_words, field, half_circle, place, place_words, reference_words, tell,
    tolerance_m, whole_metres,
};
use crate::angle::{Bearing, Grid, Magnetic};
use crate::ground::plane::{GridPosition, crossings};
use crate::numbers;
use crate::problem::{
    Answer, BoldLine, Draw, Fact, FactName, Facts, Field, Figure, FigurePart, Generator, HomeAngles, Level, LineRole,
    MapFigure, MixupList, MixupMeta, Question, SkillMeta, Step, Wanted,
};
use crate::terrain::{Spot, Way, WayKind};
use meta::{META, NOT_REVERSED, OTHER_CROSSING};
use std::fmt::Write;

/// The skill `fix-on-line`.
pub(super) struct FixOnLine;

/// The numbers of one problem.
pub(super) struct FixOnLineItem {
    ground: Ground,
    /// The mark, by its place among the landmarks.
    mark: usize,
    /// Where it stands.
    at: GridPosition,
    /// The path or stream; two of them where it is not known which.
    lines: Vec<BoldLine>,
    kind: &'static str,
    /// The landmarks at their ends.
    ends: Vec<usize>,
    sighted: Bearing<Magnetic>,
    place: GridPosition,
    /// How far away the mark is judged to be, where the line is met more than once.
    judged_m: Option<f64>,
    /// The angle at which the lines cut, in whole degrees.
    cut_deg: f64,
    level: Level,
}

/// What a level asks of the cut, in degrees.
const fn cuts(level: Level) -> std::ops::RangeInclusive<f64> {
    match level.number() {
        1 | 2 => 45.0..=90.0,
        3 => 28.0..=90.0,
        _ => 12.0..=29.0,
    }
}

/// How many bearings are tried on one map before another is drawn, and how many maps.
const BEARINGS: usize = 400;
const MAPS: usize = 24;
/// The judged distance is told in steps of this many metres; two crossings must differ by three of them.
const JUDGED_M: f64 = 100.0;

impl FixOnLineItem {
    /// Where the line from the mark on this grid bearing meets the path: where it does more than once, the place at about the judged
    /// distance.
    fn met(&self, back: Bearing<Grid>) -> Option<GridPosition> {
        let met = self.crossings(back).filter(|at| self.ground.holds(*at));
        let off =
            |at: &GridPosition| self.judged_m.map_or(0.0, |judged| (self.at.leg_to(*at).distance_m - judged).abs());
        met.min_by(|one, other| off(one).total_cmp(&off(other))).map(whole_metres)
    }

    /// Every place where the line from the mark on this grid bearing meets a path.
    fn crossings(&self, back: Bearing<Grid>) -> impl Iterator<Item = GridPosition> {
        self.lines.iter().flat_map(move |line| crossings(self.at, back, &line.corners))
    }

    fn right_line(&self) -> Bearing<Grid> {
        self.ground.back(self.sighted)
    }

    /// The lines that wrong ways draw.
    fn wrong_lines(&self) -> [(&'static MixupMeta, Bearing<Grid>); 4] {
        let gma = self.ground.gma.angle();
        let right = self.right_line();
        [
            (&NOT_APPLIED, right.turned(-gma)),
            (&SIGN_FLIPPED, right.turned(-gma - gma)),
            (&APPLIED_TWICE, right.turned(gma)),
            (&NOT_REVERSED, right.back()),
        ]
    }

    /// The other places where the right line meets the path.
    fn other_crossings(&self) -> impl Iterator<Item = GridPosition> {
        self.crossings(self.right_line())
            .map(whole_metres)
            .filter(|at| self.ground.apart(*at, self.place) && self.ground.holds(*at))
    }

    /// Whether this bearing makes a problem of the level; then place, cut and judged distance are set.
    fn settle(&mut self, draw: &mut Draw) -> bool {
        // A path that begins at the mark itself would be met there, too.
        let clear = |line: &BoldLine| line.corners.iter().all(|corner| self.ground.apart(*corner, self.at));
        if !self.lines.iter().all(clear) {
            return false;
        }
        let met: Vec<GridPosition> = self.crossings(self.right_line()).collect();
        let wanted = if self.level == Level::THREE { 2 } else { 1 };
        if met.len() != wanted {
            return false;
        }
        let chosen = usize::try_from(draw.below(2)).unwrap_or(0) % wanted;
        let Some(place) = met.get(chosen).copied().map(whole_metres) else { return false };
        let far = |at: GridPosition| self.at.leg_to(at).distance_m;
        let cut = self.cut_at(place);
        if !cuts(self.level).contains(&cut) || !self.ground.holds_well(place) {
            return false;
        }
        if let [one, other] = met.as_slice()
            && (far(*one) - far(*other)).abs() < 3.0 * JUDGED_M
        {
            return false;
        }
        self.judged_m = (wanted == 2).then(|| (far(place) / JUDGED_M).round() * JUDGED_M);
        (self.place, self.cut_deg) = (place, cut.round());
        // The two classics are always there, and all that is there is told apart.
        let mut places = vec![self.place];
        for (at, (_, back)) in self.wrong_lines().into_iter().enumerate() {
            match self.met(back) {
                Some(place) => places.push(place),
                None if at < 2 => return false,
                None => {}
            }
        }
        places.extend(self.other_crossings());
        // A wrong way is told as near as a hand marks its place, whatever room the right one has.
        let hand = tolerance_m(self.ground.scale());
        let clear = |at: &GridPosition| self.place.leg_to(*at).distance_m > self.within_m() + hand + 1.0;
        places[1..].iter().all(clear) && Ground::all_apart(&places, hand) && self.ground.sees(self.place, self.mark)
    }

    /// How near is right, in metres: where the cut is poor, what a line drawn a degree off moves the place by is no fault of method, and
    /// the hand that marks it has its room besides.
    fn within_m(&self) -> f64 {
        let hand = tolerance_m(self.ground.scale());
        let slip = Ground::slip_m(self.at.leg_to(self.place).distance_m, self.cut_deg);
        if self.level == Level::FOUR { hand + slip } else { hand.max(slip) }
    }

    /// The angle at which the line cuts the path at a place, 0 to 90 degrees.
    fn cut_at(&self, place: GridPosition) -> f64 {
        let pieces = self.lines.iter().flat_map(|line| line.corners.array_windows());
        let nearest = pieces.min_by(|[a, b], [c, d]| {
            let off = |a: &GridPosition, b: &GridPosition| {
                a.leg_to(place).distance_m + place.leg_to(*b).distance_m - a.leg_to(*b).distance_m
            };
            off(a, b).total_cmp(&off(c, d))
        });
        let Some([from, to]) = nearest else { return 0.0 };
        let turn = from.leg_to(*to).bearing.turn_to(self.right_line()).degrees().abs();
        turn.min(180.0 - turn)
    }

    fn mark_name(&self) -> &str {
        self.ground.name(self.mark)
    }

    /// What the question calls the bold line: a brook or a river by that name where there is one of them, else `the path`.
    fn bold_words(&self) -> String {
        let only = self.lines.first().filter(|_| self.lines.len() == 1 && self.kind != "path");
        only.map_or_else(|| format!("the {}", self.kind), |line| line.name.clone())
    }

    fn map_figure(&self) -> MapFigure {
        let mut figure = self.ground.figure(vec![self.mark]);
        figure.lines.clone_from(&self.lines);
        figure.named.clone_from(&self.ends);
        figure
    }
}

/// The bearing at which a mark is sighted from about this corner of a path; none where the level wants another cut, or the mark is too
/// near or too far.
fn aimed(ground: &Ground, mark: GridPosition, way: &Bold, piece: usize, level: Level) -> Option<Bearing<Magnetic>> {
    let (from, to) = (way.line.corners.get(piece)?, way.line.corners.get(piece + 1)?);
    let seen = from.leg_to(mark);
    let mm = seen.distance_m / 1000.0 * ground.scale().mm_per_km();
    let cut = from.leg_to(*to).bearing.turn_to(seen.bearing).degrees().abs();
    let step = if level == Level::ONE { 100 } else { 10 };
    let exact = seen.bearing.to(ground.gma).in_tenths();
    let fits = SIGHTED_MM.contains(&mm) && cuts(level).contains(&cut.min(180.0 - cut));
    fits.then(|| bearing_of(wrap((exact + step / 2).div_euclid(step) * step)))
}

/// A path or stream as it is drawn and told, its corners in whole metres.
struct Bold {
    line: BoldLine,
    /// `path` or `stream`.
    kind: &'static str,
    /// The landmarks at its ends.
    ends: Vec<usize>,
}

impl Bold {
    /// All of a map.
    fn all(ground: &Ground) -> Vec<Bold> {
        let bold = |way: Way| {
            let corners = way.line.iter().map(|at| whole_metres(ground.map.grid_position(*at))).collect();
            let landmarks = ground.map.landmarks();
            let end = |spot: Option<&Spot>| landmarks.iter().position(|mark| Some(&mark.spot) == spot);
            let ends = [end(way.line.first()), end(way.line.last())];
            let words = |end: Option<usize>| end.map_or("the edge of the map", |at| ground.name(at));
            let (kind, name, ends) = match way.kind {
                WayKind::Path => {
                    let name = format!("the path from {} to {}", words(ends[0]), words(ends[1]));
                    ("path", name, ends.into_iter().flatten().collect())
                }
                WayKind::Brook => ("stream", "the brook".to_owned(), Vec::new()),
                WayKind::River => ("stream", format!("the river {}", ground.map.river_name()), Vec::new()),
            };
            Bold { line: BoldLine { corners, name }, kind, ends }
        };
        ground.map.ways().into_iter().map(bold).collect()
    }
}

impl Generator for FixOnLine {
    type Item = FixOnLineItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> FixOnLineItem {
        let most = if level == Level::FOUR { 12 } else { 22 };
        let mut tried = 0;
        loop {
            let ground = Ground::draw(level, most, draw);
            let ways = Bold::all(&ground);
            let marks = u32::try_from(ground.map.landmarks().len()).unwrap_or(u32::MAX);
            tried += 1;
            for left in (0..BEARINGS).rev() {
                let mark = usize::try_from(draw.below(marks)).unwrap_or(0);
                let first = &ways[numbers::place(draw.raw(), ways.len())];
                let piece = numbers::place(draw.raw(), first.line.corners.len() - 1);
                let last = left == 0 && tried == MAPS;
                let at = ground.mark(mark);
                let Some(sighted) = aimed(&ground, at, first, piece, level).or(last.then(|| bearing_of(0))) else {
                    continue;
                };
                let mut chosen = vec![first];
                if level == Level::THREE {
                    // Another of its kind: whoever is on a path knows that it is no stream.
                    let others: Vec<&Bold> =
                        ways.iter().filter(|way| way.kind == first.kind && way.line != first.line).collect();
                    let place = numbers::place(draw.raw(), others.len().max(1));
                    chosen.extend(others.get(place));
                }
                let mut item = FixOnLineItem {
                    at,
                    mark,
                    lines: chosen.iter().map(|way| way.line.clone()).collect(),
                    kind: first.kind,
                    ends: chosen.iter().flat_map(|way| way.ends.iter().copied()).collect(),
                    sighted,
                    place: at,
                    judged_m: None,
                    cut_deg: 90.0,
                    level,
                    ground: ground.clone(),
                };
                if item.settle(draw) || last {
                    return item;
                }
            }
        }
    }

    fn question(&self, item: &FixOnLineItem) -> Question {
        match item.within_m() {
            within if within > tolerance_m(item.ground.scale()) => {
                let field = place(within);
                let tolerance = field.tolerance.told_within(tolerance_m(item.ground.scale()));
                Question::typed(vec![Field { tolerance, ..field }])
            }
            _ => Question::typed(field(item.ground.scale())),
        }
    }

    fn answer(&self, item: &FixOnLineItem) -> Answer {
        answer(item.place)
    }

    fn mixups(&self, item: &FixOnLineItem, list: &mut MixupList) {
        let mark = item.mark_name();
        for (meta, back) in item.wrong_lines() {
            if let Some(place) = item.met(back) {
                list.push(meta, answer(place), || {
                    format!("From {mark} drawn on {}: {}", drawn_words(back), place_words(place))
                });
            }
        }
        for place in item.other_crossings() {
            list.push(&OTHER_CROSSING, answer(place), || {
                format!(
                    "{} from {mark} in place of about {}: {}",
                    metres(item.at.leg_to(place).distance_m),
                    metres(item.judged_m.unwrap_or_default()),
                    place_words(place)
                )
            });
        }
    }

    fn right_way(&self, item: &FixOnLineItem) -> String {
        format!(
            "From compass to grid, then back from {} on {} to the {}: {}",
            item.mark_name(),
            drawn_words(item.right_line()),
            item.kind,
            place_words(item.place)
        )
    }

    fn facts(&self, item: &FixOnLineItem) -> Facts {
        let mut facts = vec![
            Fact::angle(FactName::MagneticBearing, item.sighted.angle()),
            Fact::angle(FactName::GridMagnetic, item.ground.gma.angle()),
            Fact::own_number("mark_easting_m", item.at.easting_m),
            Fact::own_number("mark_northing_m", item.at.northing_m),
        ];
        let corners = ["line_corners", "second_line_corners"].into_iter().zip(&item.lines);
        facts.extend(corners.map(|(name, line)| {
            let metres = line.corners.iter().map(|at| format!("{} {}", at.easting_m, at.northing_m));
            Fact::own_word(name, metres.collect::<Vec<String>>().join(", "))
        }));
        facts.extend(item.judged_m.map(|judged| Fact::own_number("judged_m", judged)));
        facts.push(Fact::wanted(Wanted::own("place_on_line")));
        Facts::from(facts)
    }

    fn prompt(&self, item: &FixOnLineItem) -> String {
        let stand = if item.kind == "path" { "You stand on" } else { "You stand at the edge of" };
        let line = match item.lines.as_slice() {
            [line] => format!("{} (the bold line) and do not know where", line.name),
            _ => format!("one of the two bold {}s and do not know on which, nor where", item.kind),
        };
        let mut out = format!(
            "{stand} {line}. You sight {}. {}",
            item.ground.sighted_words(item.mark, item.sighted),
            item.ground.gma_words(),
        );
        if let Some(judged) = item.judged_m {
            let _ = write!(out, " You judge it to be about {} away.", metres(judged));
        }
        let _ = write!(out, " Where on the map are you?");
        out
    }

    fn steps(&self, item: &FixOnLineItem) -> Vec<Step> {
        let (mark, path) = (item.mark_name(), item.kind);
        let grid = item.right_line().back();
        let mut steps = vec![
            item.ground.to_grid_step(&[item.sighted]),
            Step::new(
                format!("You know where {mark} stands, and not where you are, so draw from {mark} back to you, half a circle round"),
                half_circle(grid),
            )
            .decides("From the mark to you: which way does the line run?"),
        ];
        if let Some(judged) = item.judged_m {
            steps.push(Step::words(format!(
                "The line meets a bold {path} in two places. What else do you know? About {} from {mark} lies only one of them",
                metres(judged)
            )));
        }
        if item.level == Level::FOUR {
            let slip = Ground::slip_m(item.at.leg_to(item.place).distance_m, item.cut_deg);
            steps.push(Step::words(format!(
                "Line and {path} meet at only {}°, a poor cut: each degree of slip moves you about {}. Look for a second mark",
                item.cut_deg,
                metres(slip)
            )));
        }
        steps.push(
            Step::new(
                format!("You are on the line and on {}, so you are where they meet", item.bold_words()),
                reference_words(item.place),
            )
            .about(FigurePart::Line(LineRole::Right))
            .answers(),
        );
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &FixOnLineItem) -> String {
        let lost = if item.level == Level::FOUR {
            "Unsure? Stop, stay together, orient the map and look: what do you see? "
        } else {
            ""
        };
        format!(
            "{lost}Change the bearing for the map's lines first. Then look for the place on {} from which the edge lies to {} as that line runs back to you. Walk on only by safe ground: never follow a bearing over a hazard.",
            item.bold_words(),
            item.mark_name()
        )
    }

    fn figure(&self, item: &FixOnLineItem) -> Figure {
        Figure::Map(Box::new(item.map_figure()))
    }

    fn explanation(&self, item: &FixOnLineItem, given: Option<&Answer>) -> Figure {
        let mut figure = item.map_figure();
        tell(&mut figure, &[item.at], item.place, given, &[item.at]);
        Figure::Map(Box::new(figure))
    }
}

/// `800 m`.
fn metres(metres: f64) -> String {
    format!("{} m", metres.round())
}

#[cfg(test)]
mod tests {
    use super::super::common::figures;
    use super::*;
    use crate::angle::GridMagnetic;
    use crate::problem::{Code, realise};

    /// The exact case of the skill: a track along northing 57 600, a chapel at 34 500 / 59 400 sighted at 312 M, G-M angle 4 W.
    fn chapel() -> FixOnLineItem {
        let at = |easting_m, northing_m| GridPosition { easting_m, northing_m };
        let mut draw = Draw::new("F1", 1, 1, 1);
        let mut item = FixOnLine.draw(Level::ONE, None, &mut draw);
        item.ground.gma = GridMagnetic::from_degrees(-4.0);
        item.at = at(34_500.0, 59_400.0);
        item.lines.truncate(1);
        item.lines[0].corners = vec![at(33_000.0, 57_600.0), at(38_000.0, 57_600.0)];
        item.sighted = Bearing::from_degrees(312.0);
        item
    }

    /// Where a line meets the track, wherever the drawn map ends.
    fn easting(item: &FixOnLineItem, back: Bearing<Grid>) -> Option<f64> {
        item.crossings(back).next().map(|at| at.easting_m.round())
    }

    #[test]
    fn a_chapel_at_312_m_puts_one_on_the_track_where_arithmetic_says() {
        // 1 800·tan 52° = 2 304 east of the chapel; not applied 1 800·tan 48°; sign 1 800·tan 44°; the wrong way meets no track.
        let item = chapel();
        assert_eq!(easting(&item, item.right_line()), Some(36_804.0));
        let wrong = |meta: &MixupMeta| {
            let (_, back) = item.wrong_lines().into_iter().find(|(other, _)| other.id == meta.id).expect("listed");
            easting(&item, back)
        };
        assert_eq!(wrong(&NOT_APPLIED), Some(36_499.0));
        assert_eq!(wrong(&SIGN_FLIPPED), Some(36_238.0));
        assert_eq!(wrong(&NOT_REVERSED), None);
        assert_eq!(figures(item.right_line()).to_string(), "128");
        assert_eq!(wrap(item.right_line().back().in_tenths()), 3080);
    }

    #[test]
    fn each_level_is_as_hard_as_it_says() {
        for level in Level::ALL {
            for seed in 0..60 {
                let item = FixOnLine.draw(level, None, &mut Draw::new("F1", level.number(), 1, seed));
                assert!(cuts(level).contains(&item.cut_at(item.place)), "level {level}: {}", item.cut_at(item.place));
                assert_eq!(item.judged_m.is_some(), level == Level::THREE);
                assert_eq!(item.other_crossings().count(), usize::from(level == Level::THREE));
                assert!(item.ground.sees(item.place, item.mark), "level {level}: the mark is hidden");
                let problem = realise(&Code { skill: &FixOnLine, level, seed, home: None }).expect("a problem");
                for meta in [&NOT_APPLIED, &SIGN_FLIPPED] {
                    assert!(problem.exposes(meta.id), "{}: {}", problem.code(), meta.id);
                }
            }
        }
    }
}
