//! A printed file read back with another library: sizes, texts and lines, in millimetres right and down from the upper left corner
//! of the page.

use lopdf::content::Content;
use lopdf::{Document, Object};

/// A page.
pub struct Page {
    pub width_mm: f64,
    pub height_mm: f64,
    pub texts: Vec<Text>,
    pub lines: Vec<Line>,
}

/// A line of writing.
#[derive(Debug)]
pub struct Text {
    pub text: String,
    pub x: f64,
    pub y: f64,
    /// Size of the type in mm.
    pub size: f64,
}

/// A line that is drawn and not filled.
#[derive(Clone, Debug)]
pub struct Line {
    pub points: Vec<(f64, f64)>,
    pub colour: [u8; 3],
    pub width: f64,
    pub dash: Vec<f64>,
}

impl Line {
    /// The way from its first to its last point, clockwise from up, in degrees.
    pub fn degrees(&self) -> f64 {
        let (from, to) = (self.points[0], self.points[self.points.len() - 1]);
        (to.0 - from.0).atan2(from.1 - to.1).to_degrees().rem_euclid(360.0)
    }

    /// The distance from its first to its last point, in mm.
    pub fn length(&self) -> f64 {
        let (from, to) = (self.points[0], self.points[self.points.len() - 1]);
        (to.0 - from.0).hypot(to.1 - from.1)
    }

    pub fn is_straight(&self) -> bool {
        self.points.len() == 2
    }
}

impl Page {
    /// All that is written, in the order of the file.
    pub fn text(&self) -> String {
        let texts: Vec<&str> = self.texts.iter().map(|text| text.text.as_str()).collect();
        // A blank at which no line ends is a blank.
        texts.join(" ").replace('\u{a0}', " ")
    }
}

const MM_PER_POINT: f64 = 25.4 / 72.0;

type Matrix = [f64; 6];

const SAME: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// What `first` and then `then` do to a point.
fn after(first: Matrix, then: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = then;
    [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]
}

/// What is kept by `q`.
#[derive(Clone)]
struct State {
    matrix: Matrix,
    colour: [u8; 3],
    width: f64,
    dash: Vec<f64>,
}

fn numbers(operands: &[Object]) -> Vec<f64> {
    operands.iter().filter_map(|operand| operand.as_float().ok()).map(f64::from).collect()
}

fn six(operands: &[Object]) -> Matrix {
    numbers(operands).try_into().expect("six numbers")
}

/// All pages of a file.
pub fn pages(bytes: &[u8]) -> Vec<Page> {
    let document = Document::load_mem(bytes).expect("a sound file");
    document.page_iter().map(|id| page(&document, id)).collect()
}

fn page(document: &Document, id: lopdf::ObjectId) -> Page {
    let about = document.get_dictionary(id).expect("a page");
    let sides = numbers(about.get(b"MediaBox").and_then(Object::as_array).expect("a box"));
    let height = sides[3] - sides[1];
    let fonts = document.get_page_fonts(id).expect("fonts");
    let content = Content::decode(&document.get_page_content(id)).expect("operators");
    let mut page = Page {
        width_mm: (sides[2] - sides[0]) * MM_PER_POINT,
        height_mm: height * MM_PER_POINT,
        texts: Vec::new(),
        lines: Vec::new(),
    };
    let mut state = State { matrix: SAME, colour: [0; 3], width: 1.0, dash: Vec::new() };
    let mut kept: Vec<State> = Vec::new();
    let mut path: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut text_matrix = SAME;
    let (mut font, mut size, mut filled, mut goes_on) = (Vec::new(), 0.0, true, false);
    let place = |matrix: Matrix, x: f64, y: f64| {
        let [a, b, c, d, e, f] = matrix;
        ((a * x + c * y + e) * MM_PER_POINT, (height - (b * x + d * y + f)) * MM_PER_POINT)
    };
    for operation in content.operations {
        let given = &operation.operands;
        match operation.operator.as_str() {
            "q" => kept.push(state.clone()),
            "Q" => state = kept.pop().expect("what was kept"),
            "cm" => state.matrix = after(six(given), state.matrix),
            "RG" => {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 255")]
                let parts: Vec<u8> = numbers(given).iter().map(|part| (part * 255.0).round() as u8).collect();
                state.colour = parts.try_into().expect("three parts");
            }
            "w" => state.width = numbers(given)[0],
            "d" => state.dash = numbers(given[0].as_array().expect("dashes")),
            "m" => path.push(vec![place(state.matrix, numbers(given)[0], numbers(given)[1])]),
            "l" => {
                path.last_mut().expect("a beginning").push(place(state.matrix, numbers(given)[0], numbers(given)[1]))
            }
            "S" => page.lines.extend(path.drain(..).map(|points| Line {
                points,
                colour: state.colour,
                width: state.width,
                dash: state.dash.clone(),
            })),
            "f*" | "f" | "n" => path.clear(),
            "BT" => text_matrix = SAME,
            "Tm" => {
                text_matrix = six(given);
                goes_on = false;
            }
            "Tf" => {
                font = given[0].as_name().expect("a name").to_vec();
                size = numbers(given)[0];
            }
            // A rim around letters is drawn before they are: it is no second text.
            "Tr" => filled = numbers(given)[0] == 0.0,
            "Tj" if filled => {
                let encoding = fonts[&font].get_font_encoding(document).expect("letters that can be read back");
                let bytes = given[0].as_str().expect("letters");
                let text = Document::decode_text(&encoding, bytes).expect("letters that can be read back");
                // Letters of another cut of the font go on where those before ended.
                match page.texts.last_mut().filter(|_| goes_on) {
                    Some(before) => before.text.push_str(&text),
                    None => {
                        let (x, y) = place(after(text_matrix, state.matrix), 0.0, 0.0);
                        page.texts.push(Text { text, x, y, size });
                    }
                }
                goes_on = true;
            }
            "Tj" | "re" | "W" | "ET" | "J" | "j" | "rg" | "gs" => {}
            other => panic!("this reader does not know {other}"),
        }
    }
    page
}
