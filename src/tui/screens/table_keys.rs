//! The keys at the map table, and of showings.

use super::practice::Msg;
use super::table::{Act, Desk, Phase};
use crate::maptable::{Place, Task};
use crate::tui::keys::{Line, On, Table};
use crossterm::event::KeyCode;

/// The heading in the help of the keys at the table.
pub const AT_TABLE: &str = "At the map table";
/// The heading in the help of the keys of showings, and of the verdict that leads to one.
pub const SHOWN: &str = "Watching how it is done";

const fn key(code: KeyCode, act: Act) -> (On, Msg) {
    (On::Key(code), Msg::At(act))
}
const fn letter(letter: char, act: Act) -> (On, Msg) {
    (On::Letter(letter), Msg::At(act))
}

const DIGITS: Line<Msg> = Line::new(
    &[(On::Digit, Msg::At(Act::Digit)), letter('.', Act::Digit)],
    "a number, for the dial or as it is read; then Enter",
);
const RUB_OUT: Line<Msg> = Line::new(&[key(KeyCode::Backspace, Act::RubOut)], "rub out a digit");
const EDGE: Line<Msg> =
    Line::new(&[letter('e', Act::Edge)], "lay the edge along the next line, the way the travel arrow points");
const REVERSE: Line<Msg> = Line::new(&[letter('r', Act::Reverse)], "reverse the compass, end for end");
const BOTH: Line<Msg> = Line::new(&[letter('m', Act::Both)], "turn map and compass together from now on");
const HOLD: Line<Msg> = Line::new(
    &[key(KeyCode::Tab, Act::Hold(1)), key(KeyCode::BackTab, Act::Hold(-1))],
    "switch what is turned: the dial, the compass, map and compass together, the map, yourself",
);
const TURN: Line<Msg> = Line::new(
    &[
        key(KeyCode::Left, Act::Turn(-1)),
        key(KeyCode::Right, Act::Turn(1)),
        key(KeyCode::Up, Act::Turn(-10)),
        key(KeyCode::Down, Act::Turn(10)),
    ],
    "turn it: ← → by 1°, with Shift by 10°, ↑ ↓ by 10°; → and ↓ are clockwise",
);
const ENTER: Line<Msg> =
    Line::new(&[key(KeyCode::Enter, Act::Enter)], "done; or take the compass up to read; or say what lies ahead");
const HINT: Line<Msg> = Line::new(&[letter('h', Act::Hint)], "hint").short("h", "hint");
const BACK: Line<Msg> = Line::new(
    &[key(KeyCode::Esc, Act::Back)],
    "a step back: away with the number, back to the compass; or end, asked twice where work would be lost",
);
const PAGES: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::PageUp), Msg::Scroll(-8)), (On::Key(KeyCode::PageDown), Msg::Scroll(8))],
    "scroll the text",
);

/// Things are turned and laid.
pub const WORK: Table<Msg> = &[
    DIGITS.short("0–9", "dial"),
    EDGE.short("e", "lay edge"),
    REVERSE.short("r", "reverse"),
    BOTH.short("m", "both"),
    TURN.short("←→↑↓", "turn"),
    ENTER.short("Enter", "done"),
    HINT,
    HOLD,
    RUB_OUT,
    BACK,
    PAGES,
];
/// The edge lies on the map, and the number is to be read.
pub const LAID: Table<Msg> = &[
    EDGE.short("e", "edge"),
    REVERSE.short("r", "reverse it"),
    HOLD.short("Tab", "turn another"),
    TURN.short("←→↑↓", "turn"),
    ENTER.short("Enter", "read"),
    HINT,
    DIGITS,
    BOTH,
    RUB_OUT,
    BACK,
    PAGES,
];
/// A bearing is followed or looked back along, without a map.
pub const FOLLOW: Table<Msg> = &[
    DIGITS.short("0–9", "set dial"),
    HOLD.short("Tab", "switch"),
    TURN.short("←→↑↓", "turn"),
    ENTER.short("Enter", "look up"),
    HINT,
    BACK.short("Esc", "end"),
    REVERSE,
    RUB_OUT,
    // There is no map to lay it on, and that is said.
    Line::new(&[letter('e', Act::Edge)], ""),
    PAGES,
];
/// A map is laid by what stands around; there is nothing else to turn.
pub const AROUND: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Left, Act::Turn(-1)),
            key(KeyCode::Right, Act::Turn(1)),
            key(KeyCode::Up, Act::Turn(-10)),
            key(KeyCode::Down, Act::Turn(10)),
        ],
        "turn the map: ← → by 1°, with Shift by 10°, ↑ ↓ by 10°; → and ↓ are clockwise",
    )
    .short("←→↑↓", "turn the map"),
    ENTER.short("Enter", "done"),
    HINT,
    BACK.short("Esc", "end"),
    PAGES,
];
/// A bearing is taken to a mark in view: nothing is typed before it is read.
pub const TAKE: Table<Msg> = &[
    HOLD.short("Tab", "switch"),
    TURN.short("←→↑↓", "turn"),
    ENTER.short("Enter", "read"),
    HINT,
    BACK.short("Esc", "end"),
    REVERSE,
    PAGES,
];
/// The number at the index line is read, and the compass stays in the hand.
pub const TAKE_READING: Table<Msg> = &[
    DIGITS.short("0–9", "type what you read"),
    ENTER.short("Enter", "say it"),
    HINT,
    BACK.short("Esc", "back to the compass"),
    RUB_OUT,
    PAGES,
];
/// Whether the needle can be trusted is chosen; the number is said.
pub const TRUSTING: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Up, Act::Look(-1)),
            key(KeyCode::Down, Act::Look(1)),
            key(KeyCode::Left, Act::Look(-1)),
            key(KeyCode::Right, Act::Look(1)),
        ],
        "choose whether the needle can be trusted",
    )
    .short("↑ ↓", "choose"),
    ENTER.short("Enter", "answer"),
    HINT,
    BACK.short("Esc", "end"),
    Line::new(&[(On::Digit, Msg::At(Act::LookAt))], "choose it by its number"),
    PAGES,
];
/// A number for the dial is typed.
pub const NUMBER: Table<Msg> = &[
    DIGITS.short("0–9", "number"),
    ENTER.short("Enter", "set the dial"),
    RUB_OUT.short("⌫", "rub out"),
    BACK.short("Esc", "none"),
    HINT_QUIET,
    EDGE,
    REVERSE,
    BOTH,
    HOLD,
    TURN,
    PAGES,
];
const HINT_QUIET: Line<Msg> = Line::new(&[letter('h', Act::Hint)], "hint");
/// The number at the index line is read, the compass in the hand.
pub const READING: Table<Msg> = &[
    DIGITS.short("0–9", "type what you read"),
    ENTER.short("Enter", "say it"),
    EDGE.short("e", "lay it back"),
    HINT,
    BACK.short("Esc", "end"),
    REVERSE,
    HOLD,
    TURN,
    RUB_OUT,
    PAGES,
];
/// The magnetic bearing is said that belongs to the number read.
pub const NAMING: Table<Msg> = &[
    DIGITS.short("0–9", "type that bearing"),
    ENTER.short("Enter", "say it"),
    HINT,
    BACK.short("Esc", "end"),
    RUB_OUT,
    PAGES,
    // Nothing is moved any more, and that is said.
    Line::new(
        &[
            letter('e', Act::Refuse),
            letter('r', Act::Refuse),
            key(KeyCode::Tab, Act::Refuse),
            key(KeyCode::BackTab, Act::Refuse),
            key(KeyCode::Left, Act::Refuse),
            key(KeyCode::Right, Act::Refuse),
            key(KeyCode::Up, Act::Refuse),
            key(KeyCode::Down, Act::Refuse),
        ],
        "",
    ),
];
/// What is seen is chosen.
pub const LOOKING: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Up, Act::Look(-1)),
            key(KeyCode::Down, Act::Look(1)),
            key(KeyCode::Left, Act::Look(-1)),
            key(KeyCode::Right, Act::Look(1)),
        ],
        "choose what you see",
    )
    .short("↑ ↓", "choose"),
    ENTER.short("Enter", "answer"),
    BACK.short("Esc", "back to the compass"),
    Line::new(
        &[
            key(KeyCode::Tab, Act::ToCompass),
            key(KeyCode::BackTab, Act::ToCompass),
            key(KeyCode::Backspace, Act::ToCompass),
        ],
        "back from what you see to the compass",
    ),
    Line::new(&[(On::Digit, Msg::At(Act::LookAt))], "choose what you see by its number"),
    HINT_QUIET,
    PAGES,
];

const BACKWARD: Line<Msg> = Line::new(
    &[
        (On::Key(KeyCode::Left), Msg::Show(-1)),
        (On::Key(KeyCode::Up), Msg::Show(-1)),
        (On::Key(KeyCode::Backspace), Msg::Show(-1)),
    ],
    "a step back",
)
.short("←", "step back");
const FORWARD: &str = "the next step";
const STEP: Line<Msg> = Line::new(
    &[
        (On::Key(KeyCode::Enter), Msg::Show(1)),
        (On::Key(KeyCode::Right), Msg::Show(1)),
        (On::Key(KeyCode::Down), Msg::Show(1)),
        (On::Letter(' '), Msg::Show(1)),
    ],
    FORWARD,
)
.short("Enter", "next step");
const END: Line<Msg> = Line::new(&[(On::Key(KeyCode::Esc), Msg::Leave)], "end the session").short("Esc", "end");
const TO_VERDICT: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Watched)], "back to the verdict").short("Esc", "back to the verdict");

/// An example is shown.
pub const EXAMPLE_STEP: Table<Msg> = &[STEP, BACKWARD, END, PAGES];
/// All of it was shown.
pub const EXAMPLE_DONE: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "after the last step: now one for you")
        .short("Enter", "now one for you"),
    BACKWARD,
    END,
    PAGES,
];
/// It is shown how the work is mended.
pub const MEND_STEP: Table<Msg> = &[STEP, BACKWARD, TO_VERDICT, PAGES];
/// All of it was shown.
pub const MEND_DONE: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], "after the last step: the next problem")
        .short("Enter", "next problem"),
    BACKWARD,
    TO_VERDICT,
    PAGES,
];

/// The keys while the table is worked at.
#[must_use]
pub fn keys(desk: &Desk) -> Table<Msg> {
    match (desk.phase, &desk.problem.exercise.task) {
        (Phase::Looking(_), Task::Take(_)) => TRUSTING,
        (Phase::Looking(_), _) => LOOKING,
        (Phase::Reading, Task::Take(_)) => TAKE_READING,
        (Phase::Working, Task::Take(_)) => TAKE,
        (Phase::Working, Task::Around(_)) => AROUND,
        (Phase::Reading, _) => READING,
        (Phase::Naming, _) => NAMING,
        (Phase::Working, _) if !desk.input.is_empty() => NUMBER,
        (Phase::Working, Task::Follow { .. } | Task::BackSight { .. }) => FOLLOW,
        (Phase::Working, Task::OrientedBearing { .. } | Task::MapBearing { .. }) if desk.now.place() != Place::Hand => {
            LAID
        }
        (Phase::Working, _) => WORK,
    }
}
