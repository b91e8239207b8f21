//! Places on a map that make a problem.

use super::super::common::{InTenths, NOT_APPLIED, SIGN_FLIPPED, Tenths, angle, offset_of};
use super::ReliefItem;
use super::lattice::{Lattice, Node, Shape, WAYS};
use super::meta::{ALONG_CONTOUR, LOW_FOR_HIDDEN, SEEN_FOR_HIDDEN, UPHILL};
use crate::angle::{Bearing, Declination, True};
use crate::numbers;
use crate::problem::{Draw, Level, MixupMeta};

/// How far from a middle places may lie, in steps of the lattice.
const REACH: usize = 3;
/// How often places are looked for on one map before another is drawn.
const TRIES: usize = 24;
/// A slope whose fall can be told by eye, in m of height over 200 m.
const STEEP: f64 = 14.0;
/// One slope is told from another when it is so many times as steep.
const TIMES: f64 = 1.6;
/// Your eyes above the ground, in m.
pub(super) const EYES_M: i32 = 2;
/// Ground so many metres above the straight line hides for sure; so many below it, it does not.
const ABOVE_M: f64 = 5.0;
const BELOW_M: f64 = 3.0;

/// What is asked.
pub(super) enum Task {
    Shape { place: Node, shape: Shape },
    Steepest { places: [Node; 3] },
    Falls { places: [Node; 4], right: usize, declination: Declination },
    Hidden { stand: Node, ways: [(i32, i32); 3] },
}

/// A place whose fall a wrong way leads to.
#[derive(Clone, Copy)]
struct Wanted {
    toward: Bearing<True>,
    within: Tenths,
}

/// A problem of a level, and the ground that it lies on.
pub(super) fn find(level: Level, draw: &mut Draw) -> ReliefItem {
    let shape = draw.pick(&Shape::ALL);
    // Hills are steep above and flat below, and hide what lies behind them: what is right is as often the lowest of three as the highest.
    let lower = draw.below(3) as usize;
    // And high ground between is about as often no reason as it is one.
    let wanted = if draw.chance(1, 3) { Seen::OverHigherGround } else { Seen::Lower(lower) };
    loop {
        let lattice = Lattice::draw(draw);
        for _ in 0..TRIES {
            let middle = lattice.any(draw);
            let found = match level.number() {
                1 => shaped(lattice, middle, shape, draw),
                2 => steepest(lattice, middle, lower, draw),
                3 => falls(lattice, middle, draw),
                _ => hidden(lattice, middle, wanted, draw),
            };
            if let Some(item) = found.map(|task| ReliefItem { lattice, task }).filter(ReliefItem::is_seen_in_lines) {
                return item;
            }
        }
    }
}

fn shaped(lattice: &Lattice, middle: Node, wanted: Shape, draw: &mut Draw) -> Option<Task> {
    let near = lattice.near(middle, REACH, draw);
    let fits = |node: &Node| lattice.rises(*node).and_then(Shape::of) == Some(wanted);
    near.into_iter().find(fits).map(|place| Task::Shape { place, shape: wanted })
}

/// Whether two places lie so far asunder that each has ground of its own.
fn asunder(one: Node, other: Node) -> bool {
    one.col.abs_diff(other.col) >= 2 && one.row.abs_diff(other.row) >= 1
        || one.row.abs_diff(other.row) >= 2
        || one.col.abs_diff(other.col) >= 3
}

fn steepest(lattice: &Lattice, middle: Node, lower: usize, draw: &mut Draw) -> Option<Task> {
    let near = lattice.near(middle, REACH, draw);
    let steep = |node: Node| lattice.fall(node).map_or(0.0, |fall| fall.metres);
    near.windows(3).find_map(|three| {
        let mut places = [three[0], three[1], three[2]];
        let apart = asunder(places[0], places[1]) && asunder(places[1], places[2]) && asunder(places[0], places[2]);
        numbers::arrange(&mut places, |one, other| steep(*one).total_cmp(&steep(*other)));
        let [flat, between, most] = places.map(steep);
        let told = flat >= 4.0 && between >= TIMES * flat && most >= TIMES * between && most >= STEEP;
        let below = |place: &&Node| lattice.height(**place) < lattice.height(places[2]);
        let fits = apart && told && places.iter().filter(below).count() == lower;
        draw.shuffle(&mut places);
        fits.then_some(Task::Steepest { places })
    })
}

fn falls(lattice: &Lattice, middle: Node, draw: &mut Draw) -> Option<Task> {
    let near = lattice.near(middle, REACH, draw);
    let sloped: Vec<(Node, Bearing<True>)> = near
        .into_iter()
        .filter_map(|node| Some((node, lattice.fall(node).filter(|fall| fall.metres >= STEEP)?.toward)))
        .collect();
    let declination: Declination = offset_of(draw.between(22, 28) * 10 * draw.sign());
    let (right, toward) = *sloped.first()?;
    let wrong = wrong_ways(toward, declination);
    let mut places = vec![right];
    let mut order = [0, 1, 2, 3];
    draw.shuffle(&mut order);
    for (_, wanted) in order.map(|at| wrong[at]) {
        let fits = |(node, falls): &&(Node, Bearing<True>)| {
            wanted.iter().any(|wanted| wanted.toward.turn_to(*falls).abs().tenths() <= wanted.within)
                && places.iter().all(|other| asunder(*node, *other))
        };
        if let Some((node, _)) = sloped.iter().find(fits) {
            places.push(*node);
        }
        if let [one, two, three, four] = places[..] {
            let mut places = [one, two, three, four];
            draw.shuffle(&mut places);
            let right = places.iter().position(|place| *place == right)?;
            return Some(Task::Falls { places, right, declination });
        }
    }
    None
}

/// Where the wrong ways of working look for the fall, and how near a place must come to it.
fn wrong_ways(right: Bearing<True>, declination: Declination) -> [(&'static MixupMeta, [Wanted; 2]); 4] {
    let at = |turned: Tenths, within: Tenths| Wanted { toward: right.turned(angle(turned)), within };
    let off = declination.in_tenths();
    [
        (&UPHILL, [at(1800, 250); 2]),
        (&ALONG_CONTOUR, [at(900, 200), at(-900, 200)]),
        (&SIGN_FLIPPED, [at(-2 * off, 90); 2]),
        (&NOT_APPLIED, [at(-off, 40); 2]),
    ]
}

/// What somebody did who took a place with this fall for the right one.
pub(super) fn fault_of_fall(
    right: Bearing<True>,
    falls: Bearing<True>,
    declination: Declination,
) -> Option<&'static MixupMeta> {
    let near = |wanted: &Wanted| wanted.toward.turn_to(falls).abs().tenths() <= wanted.within;
    wrong_ways(right, declination).into_iter().find(|(_, wanted)| wanted.iter().any(near)).map(|(meta, _)| meta)
}

/// What sets the places in sight apart from the hidden one.
#[derive(Clone, Copy)]
enum Seen {
    /// So many of the two lie lower.
    Lower(usize),
    /// On the way to one of them the ground stands higher than on the way to the hidden one.
    OverHigherGround,
}

/// Three places, of which the ground hides one.
fn hidden(lattice: &Lattice, stand: Node, wanted: Seen, draw: &mut Draw) -> Option<Task> {
    if !lattice.is_dry(stand) {
        return None;
    }
    let (mut hides, mut shows) = (Vec::new(), Vec::new());
    for (east, north, _) in WAYS {
        let there = lattice.from(stand, 4 * east, 4 * north).filter(|there| lattice.is_dry(*there));
        let Some((there, heights)) = there.zip(lattice.along(stand, (east, north))) else { continue };
        let over = over(lattice.height(stand), heights);
        if over >= ABOVE_M {
            hides.push(((east, north), there));
        } else if over <= -BELOW_M {
            shows.push(((east, north), there));
        }
    }
    draw.shuffle(&mut hides);
    draw.shuffle(&mut shows);
    let highest = |way| lattice.along(stand, way).map_or(0, |heights| heights[0].max(heights[1]).max(heights[2]));
    let one = hides.first()?;
    let is_lower = |other: &((i32, i32), Node)| lattice.height(other.1) < lattice.height(one.1);
    let fits = |two: &((i32, i32), Node), three: &((i32, i32), Node)| match wanted {
        Seen::Lower(lower) => usize::from(is_lower(two)) + usize::from(is_lower(three)) == lower,
        Seen::OverHigherGround => highest(two.0).max(highest(three.0)) > highest(one.0),
    };
    let pairs = shows.iter().enumerate().flat_map(|(at, two)| shows[at + 1..].iter().map(move |three| (two, three)));
    // Whether something peeps over takes longest to find out.
    let (two, three) = pairs
        .filter(|(two, three)| fits(two, three))
        .find(|(two, three)| is_seen(lattice, stand, two.1) && is_seen(lattice, stand, three.1))?;
    let mut ways = [one.0, two.0, three.0];
    draw.shuffle(&mut ways);
    Some(Task::Hidden { stand, ways })
}

/// How far the ground between stands above the straight line from the eye, at most, in m; below it negative.
pub(super) fn over(stand: i32, heights: [i32; 4]) -> f64 {
    (0..3).map(|at| f64::from(heights[at]) - straight(stand, heights, at)).fold(f64::NEG_INFINITY, f64::max)
}

/// The height of the straight line from the eye at one of the quarters of the way, in m.
pub(super) fn straight(stand: i32, heights: [i32; 4], quarter: usize) -> f64 {
    let (eye, share) = (f64::from(stand + EYES_M), crate::numbers::real(quarter + 1) / 4.0);
    eye + (f64::from(heights[3]) - eye) * share
}

/// Whether nothing stands above the straight line anywhere between.
fn is_seen(lattice: &Lattice, stand: Node, there: Node) -> bool {
    let (eye, end) = (lattice.between(stand, there, 0.0) + f64::from(EYES_M), lattice.between(stand, there, 1.0));
    (1..20).map(|step| f64::from(step) / 20.0).all(|share| {
        let line = eye + (end - eye) * share;
        lattice.between(stand, there, share) <= line + 0.2
    })
}

/// What somebody did who took a place in sight for the hidden one.
pub(super) const fn fault_of_sight(seen_m: i32, hidden_m: i32) -> &'static MixupMeta {
    if seen_m < hidden_m { &LOW_FOR_HIDDEN } else { &SEEN_FOR_HIDDEN }
}
