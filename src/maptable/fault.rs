//! What can go wrong with the hands, each with its name, its words and how to mend it.

use super::lines::LineName;

/// One thing done wrongly. Two that cancel are two faults, though the number or the map comes out right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// The needle's south end lies in the orienting arrow's head.
    NeedleReversed,
    /// The travel arrow points back along the line.
    ArrowBack,
    /// The dial's N toward the south of the map, or the number opposite the wanted one on the dial.
    DialReversed,
    /// The number of the other sign: D for 360 − D, or the other way about.
    SignFlipped,
    /// The correction left out.
    NotApplied,
    /// The correction made twice.
    AppliedTwice,
    /// The declination where the G-M angle is needed.
    DeclinationForGma,
    /// The G-M angle where the declination is needed.
    GmaForDeclination,
    /// Declination and convergence added where they are to be subtracted, or the other way about.
    SizesAdded,
    /// The map's old declination instead of today's.
    NotUpdated,
    /// The dial set as for a true-north line, on a magnetic-north line.
    DialSetToDeclination,
    /// The declination itself on the dial, on a magnetic-north line.
    DeclinationAsReading,
    /// The edge laid on, or the dial turned after, a line other than asked.
    WrongLine(LineName),
    /// The dial's lines along the map's east-west lines.
    QuarterTurn,
    /// The map turned where the dial should be.
    MapForDial,
    /// The dial turned where map and compass should be.
    DialForMap,
    /// The oriented map moved.
    MapMoved,
    /// The compass turned off its line.
    CompassOffLine,
    /// The edge a degree or two farther beside its line than counts as on it: a slip of the hand.
    EdgeBeside,
    /// The edge laid on no line.
    EdgeOffLine,
    /// The needle boxed where the map's lines should be used.
    NeedleForLines,
    /// The dial's lines along the map's lines where the needle should be used.
    LinesForNeedle,
    /// The needle lies beside the orienting arrow.
    NotBoxed,
    /// Looking back, the needle's south end lies beside the orienting arrow.
    SouthNotBoxed,
    /// The dial shows a number that has no name.
    DialOff,
    /// The dial's lines along no line of the map.
    LinesOff,
    /// The dial turned again after the compass was taken up.
    DialMoved,
    /// The number read taken for the magnetic bearing, on a map that lies off.
    LieUnseen,
    /// The map's lie allowed for the wrong way round.
    LieOtherWay,
    /// A magnetic bearing that has no name.
    BearingOff,
    /// The number read is corrected again by hand.
    CorrectedAgain,
    /// Read at the needle, not at the index line.
    ReadAtNeedle,
    /// Read opposite the index line.
    ReadOpposite,
    /// Another number said than the dial shows.
    Misread,
    /// A leg without a number.
    NotRead,
    /// The number brought to the needle, not to the index line.
    SetAtNeedle,
    /// The dial turned the wrong way round.
    TurnedOtherWay,
    /// The dial turned until the needle was boxed where one should turn oneself.
    DialForSelf,
    /// Looked along the needle.
    LookedAlongNeedle,
    /// Looked along the tail of the travel arrow.
    LookedBack,
    /// Chose what does not lie ahead.
    NotAhead,
    /// Looked forward where one should look back.
    NotReversed,
    /// Left for right.
    SidesSwapped,
    /// The needle trusted where iron may turn it.
    IronUnheeded,
    /// Iron supposed where the place speaks against it.
    IronSupposed,
    /// Took the line for met, or for missed.
    OffsetUnseen,
    /// Chose nothing.
    NothingChosen,
    /// The travel arrow did not point at the mark.
    NotAtMark,
    /// The dial left as it was where it should be turned until the needle is boxed.
    DialLeft,
    /// The map laid half a circle off, without a compass.
    MapUpsideDown,
    /// The map turned until its top lay straight ahead, whichever way one looks.
    MapTopAhead,
    /// One mark on the map laid toward what the other stands for.
    MarksSwapped,
    /// The map laid otherwise than the ground.
    MapOff,
}

impl Fault {
    /// All faults, those with a line once for every kind of line that has an id of its own.
    pub const ALL: [Fault; 54] = [
        Fault::NeedleReversed,
        Fault::ArrowBack,
        Fault::DialReversed,
        Fault::SignFlipped,
        Fault::NotApplied,
        Fault::AppliedTwice,
        Fault::DeclinationForGma,
        Fault::GmaForDeclination,
        Fault::SizesAdded,
        Fault::NotUpdated,
        Fault::DialSetToDeclination,
        Fault::DeclinationAsReading,
        Fault::WrongLine(LineName::Border),
        Fault::WrongLine(LineName::Prong),
        Fault::QuarterTurn,
        Fault::MapForDial,
        Fault::DialForMap,
        Fault::MapMoved,
        Fault::CompassOffLine,
        Fault::EdgeBeside,
        Fault::EdgeOffLine,
        Fault::NeedleForLines,
        Fault::LinesForNeedle,
        Fault::NotBoxed,
        Fault::SouthNotBoxed,
        Fault::DialOff,
        Fault::LinesOff,
        Fault::DialMoved,
        Fault::LieUnseen,
        Fault::LieOtherWay,
        Fault::BearingOff,
        Fault::CorrectedAgain,
        Fault::ReadAtNeedle,
        Fault::ReadOpposite,
        Fault::Misread,
        Fault::NotRead,
        Fault::SetAtNeedle,
        Fault::TurnedOtherWay,
        Fault::DialForSelf,
        Fault::LookedAlongNeedle,
        Fault::LookedBack,
        Fault::NotAhead,
        Fault::NotReversed,
        Fault::SidesSwapped,
        Fault::IronUnheeded,
        Fault::IronSupposed,
        Fault::OffsetUnseen,
        Fault::NothingChosen,
        Fault::NotAtMark,
        Fault::DialLeft,
        Fault::MapUpsideDown,
        Fault::MapTopAhead,
        Fault::MarksSwapped,
        Fault::MapOff,
    ];

    /// The stable id. Where the formula is that of a mix-up that other skills have, the id is the same.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Fault::NeedleReversed => "south-end-boxed",
            Fault::ArrowBack => "arrow-back",
            Fault::DialReversed => "dial-upside-down",
            Fault::SignFlipped => "sign-flipped",
            Fault::NotApplied => "not-applied",
            Fault::AppliedTwice => "applied-twice",
            Fault::DeclinationForGma => "declination-for-gma",
            Fault::GmaForDeclination => "gma-for-declination",
            Fault::SizesAdded => "sizes-added",
            Fault::NotUpdated => "not-updated",
            Fault::DialSetToDeclination => "dial-set-to-declination",
            Fault::DeclinationAsReading => "declination-as-reading",
            Fault::WrongLine(LineName::Prong) => "diagram-prong",
            Fault::WrongLine(_) => "wrong-line",
            Fault::QuarterTurn => "quarter-turn",
            Fault::MapForDial => "map-for-dial",
            Fault::DialForMap => "dial-for-map",
            Fault::MapMoved => "map-moved",
            Fault::CompassOffLine => "compass-off-line",
            Fault::EdgeBeside => "edge-beside",
            Fault::EdgeOffLine => "edge-off-line",
            Fault::NeedleForLines => "needle-for-lines",
            Fault::LinesForNeedle => "lines-for-needle",
            Fault::NotBoxed => "not-boxed",
            Fault::SouthNotBoxed => "south-not-boxed",
            Fault::DialOff => "dial-off",
            Fault::LinesOff => "lines-off",
            Fault::DialMoved => "dial-moved",
            Fault::LieUnseen => "lie-unseen",
            Fault::LieOtherWay => "lie-other-way",
            Fault::BearingOff => "bearing-off",
            Fault::CorrectedAgain => "corrected-again",
            Fault::ReadAtNeedle => "read-at-needle",
            Fault::ReadOpposite => "read-opposite",
            Fault::Misread => "misread",
            Fault::NotRead => "not-read",
            Fault::SetAtNeedle => "set-at-needle",
            Fault::TurnedOtherWay => "turned-other-way",
            Fault::DialForSelf => "dial-for-self",
            Fault::LookedAlongNeedle => "looked-along-needle",
            Fault::LookedBack => "looked-back",
            Fault::NotAhead => "not-ahead",
            Fault::NotReversed => "not-reversed",
            Fault::SidesSwapped => "sides-swapped",
            Fault::IronUnheeded => "iron-unheeded",
            Fault::IronSupposed => "iron-supposed",
            Fault::OffsetUnseen => "offset-unseen",
            Fault::NothingChosen => "nothing-chosen",
            Fault::NotAtMark => "not-at-mark",
            Fault::DialLeft => "dial-left",
            Fault::MapUpsideDown => "map-upside-down",
            Fault::MapTopAhead => "map-top-ahead",
            Fault::MarksSwapped => "marks-swapped",
            Fault::MapOff => "map-off",
        }
    }

    /// The id of the mix-up that gives the same wrong number, for a record that knows numbers only.
    #[must_use]
    pub const fn formula(self) -> &'static str {
        match self {
            Fault::ArrowBack | Fault::DialReversed | Fault::ReadOpposite | Fault::LookedBack => "wrong-end",
            Fault::CorrectedAgain => "applied-twice",
            other => other.id(),
        }
    }

    /// Whether it turns the outcome by half a circle, so that a second one of these hides it.
    #[must_use]
    pub const fn is_reversal(self) -> bool {
        matches!(
            self,
            Fault::NeedleReversed
                | Fault::ArrowBack
                | Fault::DialReversed
                | Fault::ReadOpposite
                | Fault::LookedBack
                | Fault::NotReversed
        )
    }

    /// Whether the work itself shows it, whatever the numbers are: a generator need not keep its number apart from others.
    #[must_use]
    pub const fn shows_in_the_work(self) -> bool {
        matches!(
            self,
            Fault::NeedleReversed
                | Fault::ArrowBack
                | Fault::DialReversed
                | Fault::MapForDial
                | Fault::DialForMap
                | Fault::MapMoved
                | Fault::CompassOffLine
                | Fault::NeedleForLines
                | Fault::LinesForNeedle
                | Fault::DialForSelf
                | Fault::NotReversed
        )
    }

    /// What was done, to follow "you": `boxed the needle's south end`.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Fault::WrongLine(line) if line != LineName::Prong => format!("used {}", line.words()),
            other => other.short().to_owned(),
        }
    }

    /// The same without naming which line it was.
    #[must_use]
    pub const fn short(self) -> &'static str {
        match self {
            Fault::WrongLine(LineName::Prong) => "used the prong of the diagram as if it were drawn to scale",
            Fault::WrongLine(_) => "used another line than the one asked for",
            Fault::NeedleReversed => "let the needle's south end lie in the head of the orienting arrow",
            Fault::ArrowBack => "laid the compass with its travel arrow pointing back along the line",
            Fault::DialReversed => "had the dial the wrong way round: its N where its S belongs",
            Fault::SignFlipped => "applied the correction the wrong way round",
            Fault::NotApplied => "left out the correction",
            Fault::AppliedTwice => "applied the correction twice",
            Fault::DeclinationForGma => "used the declination where the G-M angle is needed",
            Fault::GmaForDeclination => "used the G-M angle where the declination is needed",
            Fault::SizesAdded => "put declination and convergence together the wrong way",
            Fault::NotUpdated => "set the declination that the old map prints, not today's",
            Fault::DialSetToDeclination => "set the dial as for a true-north line",
            Fault::DeclinationAsReading => "put the declination on the dial, where 000 belongs",
            Fault::QuarterTurn => "brought the dial's lines along the east-west lines of the map",
            Fault::MapForDial => "turned the map where the dial should be turned",
            Fault::DialForMap => "turned the dial where map and compass should be turned together",
            Fault::MapMoved => "moved the map, which should lie still",
            Fault::CompassOffLine => "let the edge come off its line",
            Fault::EdgeBeside => "laid the edge a little beside the line",
            Fault::EdgeOffLine => "did not lay the edge on the line",
            Fault::NeedleForLines => "boxed the needle where the map's lines should be used",
            Fault::LinesForNeedle => "used the map's lines where the needle should be boxed",
            Fault::NotBoxed => "stopped before the needle was boxed",
            Fault::SouthNotBoxed => "stopped before the needle's south end lay in the head of the orienting arrow",
            Fault::DialOff => "had a number on the dial that does not belong there",
            Fault::LinesOff => "stopped before the dial's lines ran along the map's lines",
            Fault::DialMoved => "turned the dial again after the compass had left the map",
            Fault::LieUnseen => "took the dial's number for the magnetic bearing, though the map lies off",
            Fault::LieOtherWay => "allowed the wrong way round for how the map lies",
            Fault::BearingOff => "came to another magnetic bearing",
            Fault::CorrectedAgain => "corrected by hand a number that is right as it is",
            Fault::ReadAtNeedle => "read the dial at the needle",
            Fault::ReadOpposite => "read the dial opposite the index line",
            Fault::Misread => "said another number than the dial shows",
            Fault::NotRead => "did not read the bearing",
            Fault::SetAtNeedle => "brought the number to the needle",
            Fault::TurnedOtherWay => "turned the dial the other way round",
            Fault::DialForSelf => "turned the dial to the needle where you should turn yourself",
            Fault::LookedAlongNeedle => "looked along the needle",
            Fault::LookedBack => "looked along the tail of the travel arrow",
            Fault::NotAhead => "chose something that does not lie ahead of the travel arrow",
            Fault::NotReversed => "looked forward along the line, not back",
            Fault::SidesSwapped => "took left for right",
            Fault::IronUnheeded => "trusted the needle where iron may turn it",
            Fault::IronSupposed => "took for iron what shows where you stand",
            Fault::OffsetUnseen => "misjudged whether the mark lies beside the travel arrow",
            Fault::NothingChosen => "did not say what you saw",
            Fault::NotAtMark => "did not point the travel arrow at the mark",
            Fault::DialLeft => "left the dial as it was",
            Fault::MapUpsideDown => "laid the map upside down",
            Fault::MapTopAhead => "turned the top of the map to where you look",
            Fault::MarksSwapped => "took one mark on the map for the other",
            Fault::MapOff => "laid the map otherwise than the ground lies",
        }
    }

    /// How to mend it where a bearing is followed.
    #[must_use]
    pub const fn mend_where_followed(self) -> &'static str {
        match self {
            Fault::SignFlipped => {
                "Each bearing counts from its own north, and from the north further clockwise the number is smaller: sketch the two norths."
            }
            Fault::NotApplied => {
                "The needle knows only its own north, so a true or grid bearing is changed once before it goes on the dial."
            }
            Fault::DeclinationForGma => {
                "A grid bearing counts from grid north, so it needs the angle between grid north and magnetic north."
            }
            Fault::GmaForDeclination => "A true bearing counts from true north, so it needs the declination.",
            Fault::CorrectedAgain => {
                "A magnetic bearing counts from where the needle points: it goes on the dial as it is."
            }
            other => other.mend(),
        }
    }

    /// How to mend it, a sentence.
    #[must_use]
    pub const fn mend(self) -> &'static str {
        match self {
            Fault::WrongLine(LineName::Prong) => {
                "The diagram is a sketch: only a line drawn for the purpose may be used."
            }
            Fault::WrongLine(LineName::Leg(_)) => "Put a finger on both places before you lay the edge.",
            Fault::WrongLine(_) => "Each line shows its own north, and its number on the dial belongs to it alone.",
            Fault::NeedleReversed => "The north end, the solid one, must lie in the arrow's head.",
            Fault::ArrowBack => {
                "The travel arrow points the way you would go: toward the line's north, or toward the goal."
            }
            Fault::DialReversed => "The N of the dial belongs toward the north of the map.",
            Fault::SignFlipped => {
                "Sketch the two norths. East: 360 less the angle goes on the dial. West: the angle itself."
            }
            Fault::NotApplied => "Only a magnetic-north line needs 000; for other lines the angle comes in once.",
            Fault::AppliedTwice => "Correct once, then stop.",
            Fault::DeclinationForGma => "Grid lines need the angle between grid north and magnetic north.",
            Fault::GmaForDeclination => "A true-north line needs the declination.",
            Fault::SizesAdded => {
                "Draw the three norths: on the same side of true north subtract, on opposite sides add."
            }
            Fault::NotUpdated => "Set the declination of today; the printed one is as old as the map.",
            Fault::DialSetToDeclination | Fault::DeclinationAsReading => {
                "A magnetic-north line already points where the needle points: leave the dial at 000."
            }
            Fault::QuarterTurn => "The dial's lines run north-south: lay them along the lines that run north.",
            Fault::MapForDial => "The map stays as it lies; turn the dial alone.",
            Fault::DialForMap => "The dial is set first and then left alone: turn map and compass as one.",
            Fault::MapMoved => "Once the map is oriented, leave it alone.",
            Fault::CompassOffLine => {
                "The edge must stay on its line, whatever you turn: hold the compass down on the map with your hand."
            }
            Fault::EdgeBeside | Fault::EdgeOffLine => "The edge must lie along the whole line.",
            Fault::NeedleForLines => {
                "On the map alone the needle plays no part: bring the dial's lines along the map's."
            }
            Fault::LinesForNeedle => "On an oriented map the needle does the work: turn the dial until it is boxed.",
            Fault::NotBoxed => "Boxed means: the needle's north end lies in the head of the orienting arrow.",
            Fault::SouthNotBoxed => {
                "To look back with the same number on the dial, turn on until the south end lies in the arrow's head."
            }
            Fault::DialOff => "Say the number aloud, then look for it at the index line.",
            Fault::LinesOff => {
                "Turn the dial until its lines run along the map's lines, its N toward the north of the map."
            }
            Fault::DialMoved => "Take the compass up without touching the dial, then read.",
            Fault::LieUnseen => {
                "The needle has moved since the old line was drawn, so the map lies that far off, and the dial's number with it: allow for it once."
            }
            Fault::LieOtherWay => {
                "The dial counts from the needle to a leg that turned with the map. A map turned clockwise makes the number too large: take that much off. Counterclockwise: add it."
            }
            Fault::BearingOff => {
                "How far has the needle moved since the line was drawn? So far off lies the map: allow for that and nothing else."
            }
            Fault::CorrectedAgain => {
                "What the dial shows at the index line is the bearing: the dial counts from the north that you turned it by. Write it down as it is."
            }
            Fault::ReadAtNeedle | Fault::ReadOpposite => {
                "Look only at the index line: the needle says where north is, not what is set."
            }
            Fault::Misread => "Read the nearest number below the index line, then count the ticks.",
            Fault::NotRead => "Read the number at the index line.",
            Fault::SetAtNeedle => {
                "The number belongs at the index line; the needle plays no part while you set the dial."
            }
            Fault::TurnedOtherWay => "Turning the dial clockwise makes the number smaller.",
            Fault::DialForSelf => {
                "The bearing stays on the dial: turn yourself, compass in hand, until the needle is boxed."
            }
            Fault::LookedAlongNeedle => "The needle shows magnetic north. Look along the travel arrow.",
            Fault::LookedBack => "Hold the compass so that the travel arrow points away from you.",
            Fault::NotAhead => "Look straight along the travel arrow while the needle is boxed.",
            Fault::NotReversed => "To look back with the same number on the dial, box the needle's south end.",
            Fault::IronUnheeded => {
                "Iron turns the needle, and nobody sees by how much: step away from it and look again."
            }
            Fault::IronSupposed => {
                "Where the needle points the same way some steps off, or back sight and fore sight differ by just 180°, no iron turns it: then the start shows where you stand."
            }
            Fault::SidesSwapped => {
                "A start to the right of the arrow (clockwise) as you look back has the line to your right; walking on you face the other way, so you stand right of the line. Counterclockwise: left of it."
            }
            Fault::OffsetUnseen => "Compare the mark with the travel arrow: it lies on it, or to one side.",
            Fault::NothingChosen => "Look along the travel arrow and say what you see.",
            Fault::NotAtMark => {
                "The bearing is where the travel arrow points: sight along it, over its tip, at the mark."
            }
            Fault::MapUpsideDown => {
                "Look over a mark on the map: what it stands for must lie there, and not behind you."
            }
            Fault::MapTopAhead => {
                "The top of the map is north, wherever you look: turn it by what stands around you, though its writing then lies askew."
            }
            Fault::MarksSwapped => "Read the name at each mark before you look over it, and check with the second.",
            Fault::MapOff => "From where you stand on the map, each mark must lie toward what it stands for.",
            Fault::DialLeft => {
                "The number at the index line means nothing until the needle is boxed: stand still, and turn the dial."
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maptable::Leg;
    use std::collections::BTreeSet;

    #[test]
    fn every_fault_has_an_id_of_its_own_in_kebab_case() {
        let ids: BTreeSet<&str> = Fault::ALL.iter().map(|fault| fault.id()).collect();
        assert_eq!(ids.len(), Fault::ALL.len());
        for id in ids {
            assert!(id.chars().all(|letter| letter.is_ascii_lowercase() || letter == '-'), "{id}");
        }
    }

    #[test]
    fn every_fault_says_what_and_how_to_mend_it() {
        let leg = Fault::WrongLine(LineName::Leg(Leg::new('P', 'Q').unwrap()));
        for fault in Fault::ALL.into_iter().chain([leg]) {
            assert!(fault.said().starts_with(char::is_lowercase), "{}", fault.said());
            assert!(fault.mend().ends_with('.') && fault.mend().starts_with(char::is_uppercase));
        }
    }
}
