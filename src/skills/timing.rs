//! E6, time for a leg: distance and speed, and a minute more for every 10 m of climb.
//!
//! Naismith's rule in its metric form, 12 min for a kilometre (5 km/h) and 1 min for 10 m up (check_values.csv CV143); 10 min more
//! for every 300 m down on ground steeper than 12° (Langmuir 1984, CV149). It gives the least that a fit adult needs; the half
//! as much again of a patrol is common practice, no source.

mod meta;

use super::amounts::{GOALS, STARTS, amount, hundredths, place, short};
use crate::problem::{
    Answer, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, Level, LineRole, MapPoint,
    MixupList, PlanFigure, PlanKind, PlanLine, Question, SkillMeta, Step, Tolerance, Wanted,
};
use meta::{
    CLIMB_LEFT_OUT, DESCENT_ADDED, HUNDRED_MINUTES, LINES_FOR_TENS, META, MINUTE_A_METRE, NET_HEIGHT, ONLY_HALF,
    OTHER_SPEED, PATROL_LEFT_OUT, SPEED_MULTIPLIED, STEEP_LEFT_OUT, STEEP_TAKEN_OFF,
};

/// The skill `timing`.
pub(super) struct Timing;

/// The numbers of one problem.
pub(super) struct TimingItem {
    /// The distance in halves of a kilometre.
    halves: i32,
    task: Task,
    start: &'static str,
    goal: &'static str,
}

/// What is given beside the distance; heights in metres.
#[derive(Clone, Copy, Debug)]
enum Task {
    /// Flat ground, at so many km/h.
    Flat { speed: i32 },
    /// One climb.
    Climb { up: i32 },
    /// One climb, told by the contour lines that are crossed, this far apart.
    Lines { lines: i32, interval: i32 },
    /// Up, down, and up again.
    UpAndDown { up: i32, down: i32, up_again: i32 },
    /// A climb, then so much down on steep ground, with a patrol that needs half as much again.
    Patrol { up: i32, steep_down: i32 },
}

/// A flat way is one division: nobody needs more room than the rounding of a minute or two.
static FLAT_MINUTES: [Field; 1] = [minutes(Tolerance::within(2.0).told_within(1.0))];
/// Nearer than a tenth: another speed's time would be right. And less than the least is no plan, but for rounding.
static LEAST_MINUTES: [Field; 1] = [minutes(within(0.05).less_by(2.0))];
/// Nearer than a tenth: leaving out the steep way down, or the half, must be told apart.
static PATROL_MINUTES: [Field; 1] = [minutes(within(0.05))];

/// A wrong way is told within a minute of its own number.
const fn within(share: f64) -> Tolerance {
    Tolerance::share(share, 5.0).told_within(1.0)
}

const fn minutes(tolerance: Tolerance) -> Field {
    Field { name: "time", label: "how long", kind: FieldKind::Time, tolerance }
}

/// Minutes for a kilometre at other speeds that groups walk at, and those speeds in km/h.
const OTHER_SPEEDS: [(f64, i32); 2] = [(10.0, 6), (15.0, 4)];

/// What the sum is worth.
const LEAST: &str =
    "Both together are the least, for a fit adult: less is no plan, and young people need at least half as much again";

/// No path climbs more steeply for long: metres up for each half kilometre.
const STEEPEST: i32 = 140;

/// A patrol's leg, of which the steep way down takes about a quarter of the time.
fn patrol(draw: &mut Draw) -> (i32, Task) {
    let steep = draw.between(20, 34);
    let rest = draw.between(steep * 285 / 100, steep * 325 / 100);
    // Most of the rest is for the distance, six minutes for half a kilometre: over less of it no way down is walked, but climbed.
    let halves = rest * draw.between(70, 88) / 600;
    (halves, Task::Patrol { up: (rest - 6 * halves) * 10, steep_down: steep * 30 })
}

impl Generator for Timing {
    type Item = TimingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> TimingItem {
        let (halves, task) = match level.number() {
            1 => (draw.between(4, 24), Task::Flat { speed: draw.pick(&[3, 4, 5, 6]) }),
            2 => {
                let halves = draw.between(5, 11);
                let most = halves * STEEPEST;
                if draw.chance(1, 2) {
                    (halves, Task::Climb { up: draw.between(30, 80).min(most / 10) * 10 })
                } else {
                    let interval = draw.pick(&[20, 25]);
                    (halves, Task::Lines { lines: draw.between(16, 40).min(most / interval), interval })
                }
            }
            3 => {
                let (up, up_again) = (draw.between(25, 45) * 10, draw.between(15, 30) * 10);
                (draw.between(6, 13), Task::UpAndDown { up, down: draw.between(27, 45) * 10, up_again })
            }
            _ => patrol(draw),
        };
        TimingItem { halves, task, start: draw.pick(&STARTS), goal: draw.pick(&GOALS) }
    }

    fn question(&self, item: &TimingItem) -> Question {
        Question::typed(match item.task {
            Task::Flat { .. } => &FLAT_MINUTES,
            Task::Patrol { .. } => &PATROL_MINUTES,
            _ => &LEAST_MINUTES,
        })
    }

    fn answer(&self, item: &TimingItem) -> Answer {
        amount(item.minutes())
    }

    fn mixups(&self, item: &TimingItem, list: &mut MixupList) {
        let (far, right) = (item.for_distance(), item.minutes());
        let km = item.km();
        if matches!(item.task, Task::Climb { .. } | Task::Lines { .. } | Task::UpAndDown { .. }) {
            for (minutes, speed) in OTHER_SPEEDS {
                let climbed = item.climbed();
                let other = km * minutes + climbed;
                list.push(&OTHER_SPEED, amount(other), || {
                    format!("at {speed} km/h, {km} × {minutes} + {} = {}", short(climbed), short(other))
                });
            }
        }
        match item.task {
            Task::Flat { speed } => {
                let multiplied = km * f64::from(speed);
                list.push(&SPEED_MULTIPLIED, amount(multiplied), || format!("{km} × {speed} = {}", short(multiplied)));
                list.push(&HUNDRED_MINUTES, amount(hundredths(right / 0.6)), || {
                    format!("{km} / {speed} hours, each of 100 minutes: {}", short(right / 0.6))
                });
                // 1.25 h told as 1 h 25.
                let (hours, hundredth) = ((right / 60.0).trunc(), (right / 0.6 % 100.0).round());
                let told = hours * 60.0 + hundredth;
                let alone = [right, multiplied, right / 0.6].into_iter().all(|other| (other - told).abs() > 6.0);
                let whole = (right / 0.6).fract() == 0.0;
                if hours > 0.0 && hundredth < 60.0 && whole && alone {
                    list.push(&HUNDRED_MINUTES, amount(told), || {
                        format!("{km} / {speed} = {:.2}, told as {hours} h {hundredth}", right / 60.0)
                    });
                }
            }
            Task::Climb { up } => {
                list.push(&CLIMB_LEFT_OUT, amount(far), || format!("{km} × 12 = {}", short(far)));
                let metre = far + f64::from(up);
                list.push(&MINUTE_A_METRE, amount(metre), || format!("{} + {up} = {}", short(far), short(metre)));
            }
            Task::Lines { lines, .. } => {
                list.push(&CLIMB_LEFT_OUT, amount(far), || format!("{km} × 12 = {}", short(far)));
                let tens = far + f64::from(lines);
                list.push(&LINES_FOR_TENS, amount(tens), || format!("{} + {lines} = {}", short(far), short(tens)));
                let metre = far + item.climbed() * 10.0;
                list.push(&MINUTE_A_METRE, amount(metre), || {
                    format!("{} + {} = {}", short(far), short(item.climbed() * 10.0), short(metre))
                });
            }
            Task::UpAndDown { up, down, up_again } => {
                list.push(&CLIMB_LEFT_OUT, amount(far), || format!("{km} × 12 = {}", short(far)));
                let net = up - down + up_again;
                if net >= 0 {
                    list.push(&NET_HEIGHT, amount(far + f64::from(net) / 10.0), || {
                        format!(
                            "{up} − {down} + {up_again} = {net} m of climb, so {} min",
                            short(far + f64::from(net) / 10.0)
                        )
                    });
                }
                let all = up + down + up_again;
                list.push(&DESCENT_ADDED, amount(far + f64::from(all) / 10.0), || {
                    format!(
                        "{up} + {down} + {up_again} = {all} m of climb, so {} min",
                        short(far + f64::from(all) / 10.0)
                    )
                });
            }
            Task::Patrol { steep_down, .. } => {
                let adult = item.adult();
                let steep = f64::from(steep_down) / 30.0;
                let patrol = |minutes: f64| 1.5 * minutes;
                list.push(&PATROL_LEFT_OUT, amount(adult), || item.adult_sum());
                list.push(&ONLY_HALF, amount(adult / 2.0), || format!("{} / 2 = {}", short(adult), short(adult / 2.0)));
                for (meta, times) in [(&STEEP_LEFT_OUT, 1.0), (&STEEP_TAKEN_OFF, 2.0)] {
                    let without = adult - times * steep;
                    list.push(meta, amount(patrol(without)), || {
                        format!("{} × 1.5 = {}", short(without), short(patrol(without)))
                    });
                }
            }
        }
    }

    fn right_way(&self, item: &TimingItem) -> String {
        match item.task {
            Task::Flat { speed } => {
                format!("An hour holds {speed} km: {} / {speed} × 60 = {}", item.km(), short(item.minutes()))
            }
            Task::Patrol { .. } => {
                format!("{}, and half as much again is {}", item.adult_sum(), short(item.minutes()))
            }
            _ => format!("12 min for a kilometre, 1 min for 10 m up: {}", item.adult_sum()),
        }
    }

    fn facts(&self, item: &TimingItem) -> Facts {
        let number = |name, number: i32| Fact::own_number(name, f64::from(number));
        let mut facts = vec![number("distance_m", item.halves * 500)];
        match item.task {
            Task::Flat { speed } => {
                facts.extend([number("speed_km_per_h", speed), Fact::wanted(Wanted::own("walking_time"))]);
            }
            Task::Climb { up } => {
                facts.extend([number("up_m", up), Fact::wanted(Wanted::own("least_time"))]);
            }
            Task::Lines { lines, interval } => facts.extend([
                number("contour_lines", lines),
                number("contour_interval_m", interval),
                Fact::wanted(Wanted::own("least_time")),
            ]),
            Task::UpAndDown { up, down, up_again } => facts.extend([
                number("up_m", up),
                number("down_m", down),
                number("up_again_m", up_again),
                Fact::wanted(Wanted::own("least_time")),
            ]),
            Task::Patrol { up, steep_down } => facts.extend([
                number("up_m", up),
                number("steep_down_m", steep_down),
                Fact::wanted(Wanted::own("patrol_time")),
            ]),
        }
        facts.into()
    }

    fn prompt(&self, item: &TimingItem) -> String {
        let (km, start, goal) = (item.km(), item.start, item.goal);
        match item.task {
            Task::Flat { speed } => format!(
                "You walk {speed} km in an hour on flat ground. The leg from {start} to {goal} leads along the shore, and it is {km} km long. How long do you walk?"
            ),
            Task::Climb { up } => format!(
                "From {start} to {goal} it is {km} km, and {up} m up. How long does a fit adult need at least by Naismith's rule, without rests?"
            ),
            Task::Lines { lines, interval } => format!(
                "From {start} up to {goal} it is {km} km. On the way you cross {lines} contour lines, each {interval} m above the one before. How long does a fit adult need at least by Naismith's rule, without rests?"
            ),
            Task::UpAndDown { up, down, up_again } => format!(
                "The path from {start} to {goal} is {km} km long. It climbs {up} m to a saddle, drops {down} m to a stream on easy ground, and climbs {up_again} m more. How long does a fit adult need at least by Naismith's rule, without rests?"
            ),
            Task::Patrol { up, steep_down } => format!(
                "With a young patrol you go from {start} over a top to {goal}: {km} km, {up} m up, and then {steep_down} m down on steep ground. For young people you add half as much again to Naismith's rule. How long do you walk by it, without rests?"
            ),
        }
    }

    fn steps(&self, item: &TimingItem) -> Vec<Step> {
        let km = item.km();
        let mut steps = Vec::with_capacity(7);
        if let Task::Flat { speed } = item.task {
            steps.push(
                Step::new(
                    format!("An hour holds {speed} km, so ask how many such pieces the way has"),
                    format_args!("{km} / {speed} hours"),
                )
                .decides("Does the speed multiply or divide"),
            );
            steps.push(Step::new("An hour is 60 minutes", item.sixty(speed)).about(FigurePart::Line(LineRole::Right)));
            let minutes = format!("{} min", short(item.minutes()));
            steps.push(
                Step::new("Rests are not in it: on the day, add time for them. So long you walk", minutes).answers(),
            );
            return steps;
        }
        let far = item.for_distance();
        steps.push(
            Step::new(
                "A fit adult walks 5 km in an hour on easy ground, so a kilometre takes 12 minutes",
                format_args!("{km} × 12 = {}", short(far)),
            )
            .about(FigurePart::Line(LineRole::Right)),
        );
        match item.task {
            Task::Lines { lines, interval } => {
                steps.push(Step::new(
                    "Each contour line is one step higher",
                    format_args!("{lines} × {interval} = {}", lines * interval),
                ));
            }
            Task::UpAndDown { up, up_again, .. } => {
                steps.push(
                    Step::new(
                        "What you lose you have to climb again, so add up the climbs. An easy way down goes as fast as flat ground, and its kilometres are counted already, so it costs nothing more",
                        format_args!("{up} + {up_again} = {}", up + up_again),
                    )
                    .decides("Which of the heights cost time"),
                );
            }
            _ => {}
        }
        let climbed = item.climbed();
        steps.push(
            Step::new(
                "Lifting yourself takes time of its own. Fit legs gain about 600 m in an hour, which is a minute for every 10 m up",
                format_args!("{} / 10 = {}", short(climbed * 10.0), short(climbed)),
            )
            .decides("How much time does the climb add"),
        );
        if let Task::Patrol { steep_down, .. } = item.task {
            let steep = f64::from(steep_down) / 30.0;
            steps.push(
                Step::new(
                    "On steep ground you have to watch every step, so the way down costs time, too: 10 minutes for every 300 m",
                    format_args!("{steep_down} / 300 × 10 = {}", short(steep)),
                )
                .decides("Does a steep way down cost time or save it"),
            );
            let adult = item.adult();
            steps.push(Step::new(
                "All together, the least for a fit adult without rests",
                format_args!("{} + {} + {} = {}", short(far), short(climbed), short(steep), short(adult)),
            ));
            steps.push(
                Step::new(
                    "Young legs need more: half of it",
                    format_args!("{} / 2 = {}", short(adult), short(adult / 2.0)),
                )
                .decides("What do you add for a young patrol"),
            );
            let sum = format!("{} + {} = {} min", short(adult), short(adult / 2.0), short(item.minutes()));
            steps.push(
                Step::new("And that on top. Rests are not in it, so plan more than that and never less", sum).answers(),
            );
            return steps;
        }
        let sum = format!("{} + {} = {} min", short(far), short(climbed), short(item.minutes()));
        steps.push(Step::new(LEAST, sum).answers());
        steps
    }

    fn hint(&self, item: &TimingItem) -> String {
        match item.task {
            Task::Flat { .. } => "How many kilometres are walked in an hour? How many such hours does the way have, and how many minutes is that?",
            Task::Climb { .. } | Task::Lines { .. } => "Two times are added: 12 minutes for each kilometre, and a minute for each 10 m of climb.",
            Task::UpAndDown { .. } => "12 minutes for each kilometre, a minute for each 10 m of climb. What you climb after the stream you have to climb, too.",
            Task::Patrol { .. } => "First as for a fit adult: 12 minutes a kilometre, a minute for 10 m up, 10 minutes for 300 m of steep ground down. Then think who walks.",
        }
        .to_owned()
    }

    fn explanation(&self, item: &TimingItem, _given: Option<&Answer>) -> Figure {
        item.profile()
    }
}

impl TimingItem {
    fn km(&self) -> f64 {
        f64::from(self.halves) / 2.0
    }

    /// Minutes for the distance alone: 12 for a kilometre.
    fn for_distance(&self) -> f64 {
        f64::from(self.halves * 6)
    }

    /// Minutes for the climbs alone: 1 for 10 m.
    fn climbed(&self) -> f64 {
        let up = match self.task {
            Task::Flat { .. } => 0,
            Task::Climb { up } | Task::Patrol { up, .. } => up,
            Task::Lines { lines, interval } => lines * interval,
            Task::UpAndDown { up, up_again, .. } => up + up_again,
        };
        f64::from(up) / 10.0
    }

    /// The right answer.
    fn minutes(&self) -> f64 {
        match self.task {
            Task::Flat { speed } => f64::from(self.halves * 30) / f64::from(speed),
            Task::Patrol { .. } => 1.5 * self.adult(),
            _ => self.adult(),
        }
    }

    /// What a fit adult needs at least.
    fn adult(&self) -> f64 {
        let steep_down = if let Task::Patrol { steep_down, .. } = self.task { steep_down } else { 0 };
        self.for_distance() + self.climbed() + f64::from(steep_down / 30)
    }

    /// `6 × 12 + 450 / 10 = 117`.
    fn adult_sum(&self) -> String {
        let (km, up) = (self.km(), short(self.climbed() * 10.0));
        match self.task {
            Task::Patrol { steep_down, .. } => {
                format!("{km} × 12 + {up} / 10 + {steep_down} / 300 × 10 = {}", short(self.adult()))
            }
            _ => format!("{km} × 12 + {up} / 10 = {}", short(self.minutes())),
        }
    }

    /// `6 / 4 × 60 = 90`.
    fn sixty(&self, speed: i32) -> String {
        format!("{} / {speed} × 60 = {}", self.km(), short(self.minutes()))
    }

    /// The way from the side: how far, how high.
    fn profile(&self) -> Figure {
        let far = f64::from(self.halves * 500);
        let (heights, said): (Vec<f64>, String) = match self.task {
            Task::Flat { .. } => (vec![0.0, 0.0], "flat".to_owned()),
            Task::Climb { .. } | Task::Lines { .. } => {
                let up = self.climbed() * 10.0;
                (vec![0.0, up], format!("{} m up", short(up)))
            }
            Task::UpAndDown { up, down, up_again } => {
                let corners = [0, up, up - down, up - down + up_again].map(f64::from);
                (corners.to_vec(), format!("up {up}, down {down}, up {up_again} m"))
            }
            Task::Patrol { up, steep_down } => {
                ([0, up, up - steep_down].map(f64::from).to_vec(), format!("{up} m up, {steep_down} m down"))
            }
        };
        // Heights are drawn three times as large as they are, or a day's climb would hardly show.
        let spacing = far / crate::numbers::real(heights.len() - 1);
        let points: Vec<MapPoint> = (0..)
            .zip(&heights)
            .map(|(at, height)| MapPoint { east_m: f64::from(at) * spacing, north_m: height * 3.0 })
            .collect();
        let ends = [(points[0], self.start), (points[points.len() - 1], self.goal)];
        let label = match self.task {
            // All of it has no room on a small screen.
            Task::UpAndDown { .. } => said.clone(),
            _ => format!("{} km, {said}", self.km()),
        };
        let lines = vec![PlanLine { kind: PlanKind::Way(LineRole::Right), through: points, label }];
        let places = ends.map(|(at, name)| place(at, name)).to_vec();
        let words = format!("The way from {} to {} from the side: {} km, {said}.", self.start, self.goal, self.km());
        Figure::Plan(PlanFigure { north: None, needle: None, lines, places, words, says_more: false })
    }
}

#[cfg(test)]
mod tests;
