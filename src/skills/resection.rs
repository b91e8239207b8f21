//! F2, resection: two marks are sighted, a line is drawn back from each, and where they cross one stands.

use super::common::{APPLIED_TWICE, InTenths, NOT_APPLIED, SIGN_FLIPPED, bearing_of, wrap};
use super::fixes::{
    Ground, SIGHTED_MM, answer, drawn_words, field, half_circle, joined, place_words, reference_words, tell,
    tolerance_m, whole_metres,
};
use crate::angle::{Angle, Bearing, Magnetic};
use crate::ground::plane::{Fix, GridPosition, intersection};
use crate::numbers;
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Figure, FigurePart, Generator, HomeAngles, Level, LineRole,
    MixupClass, MixupId, MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Value, Wanted,
};
use crate::terrain::Spot;

/// The skill `resection`.
pub(super) struct Resection;

/// A mark and its bearing by the compass.
#[derive(Clone, Copy, Debug)]
struct Sight {
    /// Its place among the landmarks.
    mark: usize,
    at: GridPosition,
    bearing: Bearing<Magnetic>,
}

/// The numbers of one problem.
pub(super) struct ResectionItem {
    ground: Ground,
    /// What was sighted, in the order of the text: two marks to four.
    sights: Vec<Sight>,
    /// Which two are used.
    best: [usize; 2],
    fix: Fix,
}

/// The bearings drawn from each other's marks.
const MARKS_SWAPPED: MixupMeta = MixupMeta {
    id: MixupId("marks-swapped"),
    class: MixupClass::Place,
    said: "drew each line from the other mark",
    mend: "Write the mark's name beside its bearing as soon as you read it.",
};

/// One bearing changed for the grid, the other left as it was.
const ONE_CORRECTED: MixupMeta = MixupMeta {
    id: MixupId("one-corrected"),
    class: MixupClass::Forgotten,
    said: "changed one bearing for the map's lines and left the other as it was",
    mend: "Change both before you draw any line: both come from the same needle.",
};

/// The two marks that lie nearly one behind the other.
const POOR_CUT: MixupMeta = MixupMeta {
    id: MixupId("poor-cut"),
    class: MixupClass::Method,
    said: "took the two marks whose lines run nearly the same way",
    mend: "Take two marks about a quarter circle apart: lines that run nearly the same way cut anywhere for a small slip.",
};

static META: SkillMeta = SkillMeta {
    id: "resection",
    mark: "F2",
    family: Family::Position,
    title: "Find your place by two marks",
    can: "Sights two marks, draws a line back from each, and finds the own place where they cross.",
    levels: [
        "two round bearings, lines that cut steeply",
        "any whole degree",
        "three marks sighted, one nearly behind another: choose; a bearing past north, and smaller scales",
        "four marks sighted: choose the two that cut best",
    ],
    prerequisites: &["fix-on-line"],
    mixups: &[NOT_APPLIED, SIGN_FLIPPED, APPLIED_TWICE, ONE_CORRECTED, MARKS_SWAPPED, POOR_CUT],
    lines: NorthLines::Grid,
    on_home: false,
    generation: 4,
};

/// The least angle at which lines cut well, in degrees (common practice, no source).
const CUTS_WELL: f64 = 45.0;
/// Up to this angle they cut badly.
const CUTS_BADLY: std::ops::RangeInclusive<f64> = 7.0..=24.0;
/// How good hand and eye are, whole degrees.
const SLIP: i32 = 2;
/// How many places are tried on one map before another is drawn, and how many maps.
const PLACES: usize = 60;
const MAPS: usize = 40;

/// A pair that is moved by so many times what the best one is may be taken in its place, and so comes out right.
const SLIPS_AS_LITTLE: f64 = 1.25;

impl ResectionItem {
    fn chosen(&self) -> [Sight; 2] {
        self.best.map(|at| self.sights[at])
    }

    /// Where the lines from two marks cross, each turned by an angle from where it belongs; only where somebody could pick it.
    fn cross(&self, [one, other]: [Sight; 2], turned: [Angle; 2]) -> Option<GridPosition> {
        let line = |sight: Sight, by: Angle| (sight.at, self.ground.back(sight.bearing).turned(by));
        let fix = intersection(line(one, turned[0]), line(other, turned[1]))?;
        Some(whole_metres(fix.at)).filter(|at| self.ground.holds(*at))
    }

    /// Where wrong ways come to.
    fn wrong_places(&self) -> Vec<(&'static MixupMeta, Option<GridPosition>)> {
        let (gma, pair) = (self.ground.gma.angle(), self.chosen());
        let [one, other] = pair;
        let turned = |by: Angle| self.cross(pair, [by, by]);
        let swapped = [Sight { bearing: other.bearing, ..one }, Sight { bearing: one.bearing, ..other }];
        let mut places = vec![
            (&NOT_APPLIED, turned(-gma)),
            (&SIGN_FLIPPED, turned(-gma - gma)),
            (&APPLIED_TWICE, turned(gma)),
            (&ONE_CORRECTED, self.cross(pair, [Angle::ZERO, -gma])),
            (&ONE_CORRECTED, self.cross(pair, [-gma, Angle::ZERO])),
            (&MARKS_SWAPPED, self.cross(swapped, [Angle::ZERO; 2])),
        ];
        if let Some(poor) = self.poor_pair() {
            places.push((&POOR_CUT, self.cross(poor, [Angle::ZERO; 2])));
        }
        places
    }

    /// Of more than two sights the two whose lines run most nearly the same way.
    fn poor_pair(&self) -> Option<[Sight; 2]> {
        if self.sights.len() < 3 {
            return None;
        }
        let cut = |[one, other]: &[Sight; 2]| cut(one.bearing, other.bearing);
        pairs(&self.sights).min_by(|one, other| cut(one).total_cmp(&cut(other)))
    }

    /// The two marks that an answer was found by: the right ones, unless it lies where the lines of the poor ones cross and nowhere
    /// nearer to what the right ones lead to.
    fn used_by(&self, given: Option<&Answer>) -> [Sight; 2] {
        let Some([Value::Point(point)]) = given.map(Answer::values) else { return self.chosen() };
        let at = GridPosition::from(*point);
        let others = self.wrong_places().into_iter().map(|(meta, place)| (meta.id, place));
        let all = others.filter_map(|(id, place)| Some((id, at.leg_to(place?).distance_m)));
        let nearest = all.min_by(|one, other| one.1.total_cmp(&other.1));
        match (nearest, self.poor_pair()) {
            (Some((id, away)), Some(poor)) if id == POOR_CUT.id && away < at.leg_to(self.fix.at).distance_m => poor,
            _ => self.chosen(),
        }
    }

    /// Whether somebody at about this place makes a problem of the level; with a third mark between the two where that is wished for.
    fn draw_at(
        ground: &Ground,
        stand: GridPosition,
        (level, between): (Level, bool),
        draw: &mut Draw,
    ) -> Option<ResectionItem> {
        let step = if level == Level::ONE { 100 } else { 10 };
        let sight = |mark: usize| {
            let at = ground.mark(mark);
            let exact = stand.leg_to(at).bearing.to(ground.gma).in_tenths();
            Sight { mark, at, bearing: bearing_of(wrap((exact + step / 2).div_euclid(step) * step)) }
        };
        let here = ground.spot(stand);
        let near = |mark: &usize| {
            let there = ground.map.landmarks().get(*mark);
            there.is_some_and(|there| SIGHTED_MM.contains(&here.distance_mm(there.spot)))
        };
        let mut marks: Vec<usize> = (0..ground.map.landmarks().len()).filter(near).collect();
        draw.shuffle(&mut marks);
        let all: Vec<Sight> = marks.into_iter().map(sight).collect();
        let apart = |[one, other]: &[Sight; 2]| cut(one.bearing, other.bearing);
        let crosses =
            |pair: &[Sight; 2]| level != Level::THREE || pair.iter().any(|sight| ground.is_past_north(sight.bearing));
        let [one, other] = pairs(&all).find(|pair| apart(pair) >= CUTS_WELL + 5.0 && crosses(pair))?;
        let fix = intersection((one.at, ground.back(one.bearing)), (other.at, ground.back(other.bearing)))?;
        let ahead = |sight: &Sight| {
            let back = ground.back(sight.bearing).back();
            fix.at.leg_to(sight.at).bearing.turn_to(back).abs() < Angle::from_degrees(1.0)
        };
        if !ground.holds_well(fix.at) || !ahead(&one) || !ahead(&other) {
            return None;
        }
        let mut sights = vec![one, other];
        if level >= Level::THREE {
            // More that lie nearly one behind the other, read with a slip of the hand.
            let rest: Vec<Sight> = all.into_iter().filter(|it| it.mark != one.mark && it.mark != other.mark).collect();
            let slipped = |sight: Sight, by: i32| {
                let exact = fix.at.leg_to(sight.at).bearing.to(ground.gma).in_tenths();
                Sight { bearing: bearing_of(wrap((exact + 5).div_euclid(10) * 10 + by * 10)), ..sight }
            };
            let side = draw.sign() * SLIP;
            if level == Level::THREE {
                let fits = |third: &Sight| {
                    CUTS_BADLY.contains(&apart(&[one, *third])) && (!between || apart(&[other, *third]) < CUTS_WELL)
                };
                sights.extend(rest.iter().map(|sight| slipped(*sight, side)).filter(fits).take(1));
            } else {
                let poor = pairs(&rest).map(|[far, near]| [slipped(far, side), slipped(near, -side)]);
                sights.extend(poor.filter(|pair| CUTS_BADLY.contains(&apart(pair))).take(1).flatten());
            }
            if sights.len() < usize::from(level.number()) {
                return None;
            }
            draw.shuffle(&mut sights);
        }
        // The two that cut nearest to a right angle.
        let places = (0..sights.len()).flat_map(|at| (at + 1..sights.len()).map(move |other| [at, other]));
        let best = places.max_by(|one, other| {
            let cut = |pair: &[usize; 2]| apart(&pair.map(|at| sights[at]));
            cut(one).total_cmp(&cut(other))
        })?;
        let line = |at: usize| (sights[at].at, ground.back(sights[at].bearing));
        let fix = intersection(line(best[0]), line(best[1]))?;
        let fix = Fix { at: whole_metres(fix.at), ..fix };
        let item = ResectionItem { ground: ground.clone(), sights, best, fix };
        (ground.holds_well(item.fix.at) && item.fits(level)).then_some(item)
    }

    /// Whether it shows what it should: the two classics always, all that it shows told apart, every mark in view.
    fn fits(&self, level: Level) -> bool {
        if level == Level::THREE && !self.chosen().iter().any(|sight| self.ground.is_past_north(sight.bearing)) {
            return false;
        }
        let wrong = self.wrong_places();
        if wrong.iter().take(2).any(|(_, place)| place.is_none()) {
            return false;
        }
        if level >= Level::THREE && !self.chooses_well(&wrong) {
            return false;
        }
        let places: Vec<GridPosition> = wrong.into_iter().filter_map(|(_, place)| place).chain([self.fix.at]).collect();
        Ground::all_apart(&places, tolerance_m(self.ground.scale()))
            && self.sights.iter().all(|sight| self.ground.sees(self.fix.at, sight.mark))
    }

    /// Whether the poor pair leads astray, and any pair that cuts well comes out right.
    fn chooses_well(&self, wrong: &[(&MixupMeta, Option<GridPosition>)]) -> bool {
        let poor = wrong.iter().any(|(meta, place)| meta.id == POOR_CUT.id && place.is_some());
        // One pair cuts best and one worst: whole degrees often tie.
        let mut cuts: Vec<f64> = pairs(&self.sights).map(|[one, other]| cut(one.bearing, other.bearing)).collect();
        numbers::arrange(&mut cuts, f64::total_cmp);
        let alone = |one: usize, other: usize| (cuts[one] - cuts[other]).abs() > 0.5;
        let no_tie = alone(0, 1) && alone(cuts.len() - 1, cuts.len() - 2);
        // Of two near marks a degree may move one less than of two far ones that cut better.
        let slip = |pair: &[Sight; 2]| {
            let far = pair.iter().map(|sight| sight.at.leg_to(self.fix.at).distance_m).fold(0.0, f64::max);
            far / cut(pair[0].bearing, pair[1].bearing).to_radians().sin()
        };
        let least = slip(&self.chosen());
        let well = pairs(&self.sights).all(|pair| {
            let cuts = cut(pair[0].bearing, pair[1].bearing) >= CUTS_WELL || slip(&pair) <= SLIPS_AS_LITTLE * least;
            let right = |at: GridPosition| at.leg_to(self.fix.at).distance_m <= tolerance_m(self.ground.scale());
            !cuts || self.cross(pair, [Angle::ZERO; 2]).is_some_and(right)
        });
        poor && well && no_tie
    }

    fn name(&self, sight: &Sight) -> &str {
        self.ground.name(sight.mark)
    }
}

/// All pairs of sights.
fn pairs(sights: &[Sight]) -> impl Iterator<Item = [Sight; 2]> + '_ {
    sights.iter().enumerate().flat_map(|(at, one)| sights[at + 1..].iter().map(move |other| [*one, *other]))
}

/// The angle at which lines on these bearings cut, 0 to 90 degrees: the same from whichever end and whichever north they are counted.
fn cut(one: Bearing<Magnetic>, other: Bearing<Magnetic>) -> f64 {
    let turn = one.turn_to(other).degrees().abs();
    turn.min(180.0 - turn)
}

impl Generator for Resection {
    type Item = ResectionItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> ResectionItem {
        // Mostly the third mark lies between the two, so that it goes with neither: else any two of the three would do too often.
        let between = level == Level::THREE && draw.chance(2, 3);
        let mut last = None;
        for number in 0..MAPS {
            // Where no map of the first half has such a place, it is wished for no longer.
            let between = between && number < MAPS / 2;
            let ground = Ground::draw(level, if level == Level::THREE { 28 } else { 20 }, draw);
            for _ in 0..PLACES {
                let side = |draw: &mut Draw, mm: f64| mm * f64::from(draw.between(8, 92)) / 100.0;
                let spec = ground.map.spec();
                let spot = Spot::new(side(draw, spec.width_mm), side(draw, spec.height_mm));
                if let Some(item) =
                    ResectionItem::draw_at(&ground, ground.map.grid_position(spot), (level, between), draw)
                {
                    return item;
                }
            }
            last = Some(ground);
        }
        // No seed tried comes here; a place in the middle of the sheet is still a problem of its kind.
        let ground = last.unwrap_or_else(|| Ground::draw(level, 20, draw));
        let middle = whole_metres(ground.map.grid_position(ground.map.middle()));
        let sight = |mark: usize| {
            let at = ground.mark(mark);
            Sight { mark, at, bearing: middle.leg_to(at).bearing.to(ground.gma) }
        };
        let sights = vec![sight(0), sight(1)];
        ResectionItem { ground, sights, best: [0, 1], fix: Fix { at: middle, cut: Angle::from_degrees(90.0) } }
    }

    fn question(&self, item: &ResectionItem) -> Question {
        Question::typed(field(item.ground.scale()))
    }

    fn answer(&self, item: &ResectionItem) -> Answer {
        answer(item.fix.at)
    }

    fn mixups(&self, item: &ResectionItem, list: &mut MixupList) {
        let gma = item.ground.gma.angle();
        let [one, other] = item.chosen();
        let mut corrected = [other, one].into_iter();
        for (meta, place) in item.wrong_places() {
            let left = if meta.id == ONE_CORRECTED.id { corrected.next() } else { None };
            let Some(place) = place else { continue };
            let lines = |by: Angle| {
                let line = |sight: &Sight| {
                    format!("from {} on {}", item.name(sight), drawn_words(item.ground.back(sight.bearing).turned(by)))
                };
                format!("{} and {}: {}", line(&one), line(&other), place_words(place))
            };
            list.push(meta, answer(place), || match meta.id {
                id if id == NOT_APPLIED.id => lines(-gma),
                id if id == SIGN_FLIPPED.id => lines(-gma - gma),
                id if id == APPLIED_TWICE.id => lines(gma),
                id if id == ONE_CORRECTED.id => {
                    let left = left.map_or("", |sight| item.ground.name(sight.mark));
                    format!("the line from {left} drawn as the needle said it: {}", place_words(place))
                }
                id if id == POOR_CUT.id => {
                    let pair = item.poor_pair().map(|pair| pair.map(|sight| item.ground.name(sight.mark)));
                    let [far, near] = pair.unwrap_or_default();
                    format!("{far} and {near}, which lie nearly one behind the other: {}", place_words(place))
                }
                _ => format!(
                    "from {} the bearing of {}, and the other way about: {}",
                    item.name(&one),
                    item.name(&other),
                    place_words(place)
                ),
            });
        }
    }

    fn right_way(&self, item: &ResectionItem) -> String {
        let line =
            |sight: &Sight| format!("from {} on {}", item.name(sight), drawn_words(item.ground.back(sight.bearing)));
        let [one, other] = item.chosen();
        format!("Both changed for the grid, then {} and {}: {}", line(&one), line(&other), place_words(item.fix.at))
    }

    fn facts(&self, item: &ResectionItem) -> Facts {
        const NAMES: [[&str; 3]; 4] = [
            ["first_magnetic_bearing_deg", "first_easting_m", "first_northing_m"],
            ["second_magnetic_bearing_deg", "second_easting_m", "second_northing_m"],
            ["third_magnetic_bearing_deg", "third_easting_m", "third_northing_m"],
            ["fourth_magnetic_bearing_deg", "fourth_easting_m", "fourth_northing_m"],
        ];
        let mut facts = vec![Fact::angle(FactName::GridMagnetic, item.ground.gma.angle())];
        for ([bearing, easting, northing], sight) in NAMES.into_iter().zip(&item.sights) {
            facts.push(Fact::own_angle(bearing, sight.bearing.angle()));
            facts.push(Fact::own_number(easting, sight.at.easting_m));
            facts.push(Fact::own_number(northing, sight.at.northing_m));
        }
        facts.push(Fact::wanted(Wanted::own("place_by_marks")));
        Facts::from(facts)
    }

    fn prompt(&self, item: &ResectionItem) -> String {
        let sights: Vec<String> =
            item.sights.iter().map(|sight| item.ground.sighted_words(sight.mark, sight.bearing)).collect();
        let (last, before) = sights.split_last().map_or(("", &[][..]), |(last, before)| (last.as_str(), before));
        let choose = if item.sights.len() > 2 {
            " Hand and eye may slip a little each time, so use the two marks that fix your place best."
        } else {
            ""
        };
        format!(
            "You have lost your place, so you stop and stay together. You sight {}, and {last}. {}{choose} Where on the map are you?",
            before.join(", "),
            item.ground.gma_words(),
        )
    }

    fn steps(&self, item: &ResectionItem) -> Vec<Step> {
        let pair = item.chosen();
        let [one, other] = pair.map(|sight| item.ground.name(sight.mark));
        let mut steps = Vec::new();
        if item.sights.len() > 2 {
            steps.push(
                Step::words(format!(
                    "Where lines run nearly the same way, a small slip moves their crossing far. {one} and {other} stand most nearly a quarter circle apart, so take these"
                ))
                .decides("Which two marks stand most nearly a quarter circle apart?"),
            );
        }
        steps.push(item.ground.to_grid_step(&pair.map(|sight| sight.bearing)));
        steps.push(Step::new(
            format!("You know where {one} and {other} stand, and not where you are, so draw from them back to you, half a circle round"),
            joined(pair.iter().map(|sight| half_circle(item.ground.back(sight.bearing).back()))),
        )
        .decides("You know where the marks stand, and not where you are. On which bearings do the lines run from them to you"));
        steps.push(Step::words(
            "A bearing and its back bearing are one line: whichever of the two you draw through the mark, lengthened to both sides it runs through your place",
        ));
        let distance = pair.iter().map(|sight| sight.at.leg_to(item.fix.at).distance_m).fold(0.0, f64::max);
        steps.push(
            Step::new(
                format!(
                    "The lines cut at {:.0}°, and a degree of slip moves you about {} m: you are where they cross",
                    item.fix.cut.degrees(),
                    Ground::slip_m(distance, item.fix.cut.degrees())
                ),
                reference_words(item.fix.at),
            )
            .about(FigurePart::Line(LineRole::Right))
            .answers(),
        );
        steps
    }

    fn hint(&self, item: &ResectionItem) -> String {
        let choose = if item.sights.len() > 2 { "Two marks about a quarter circle apart fix you best. " } else { "" };
        format!(
            "{choose}Change both bearings for the map's lines first, then turn them half a circle round: that is how the edge must lie from each mark to you. Lost for good? Stop and stay together."
        )
    }

    fn figure(&self, item: &ResectionItem) -> Figure {
        Figure::Map(Box::new(item.ground.figure(item.sights.iter().map(|sight| sight.mark).collect())))
    }

    fn explanation(&self, item: &ResectionItem, given: Option<&Answer>) -> Figure {
        let (right, theirs) = (item.chosen(), item.used_by(given));
        let mut figure = item.ground.figure(item.sights.iter().map(|sight| sight.mark).collect());
        tell(&mut figure, &right.map(|sight| sight.at), item.fix.at, given, &theirs.map(|sight| sight.at));
        Figure::Map(Box::new(figure))
    }
}

#[cfg(test)]
mod tests;
