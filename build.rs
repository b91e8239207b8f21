//! Builds again when a drill is changed, added or taken away: the drills are embedded into the program. Says whether the program
//! checks itself while it runs. And cuts the font of printed pages to the letters that are written, so that it costs the program
//! and each page a few kilobytes.

use miniz_oxide::deflate::compress_to_vec_zlib;
use std::error::Error;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use subsetter::{GlyphRemapper, subset};
use ttf_parser::Face;

/// A cut: its name, the font, and the ranges of letters.
type Cut = (&'static str, &'static [u8], &'static [(u32, u32)]);

/// English with its accents, and the signs of maps and sums: in nearly every file.
const CORE: &[(u32, u32)] = &[
    (0x20, 0x7e),
    (0xa0, 0xff),
    (0x2010, 0x2015),
    (0x2018, 0x201f),
    (0x2022, 0x2026),
    (0x2032, 0x2033),
    (0x2190, 0x2193),
    (0x2212, 0x2212),
    (0x221a, 0x221a),
    (0x2248, 0x2248),
    (0x2264, 0x2265),
    (0x25a1, 0x25a1),
    (0x25cb, 0x25cb),
];
/// Names of other tongues: Latin Extended-A, Romanian, Greek, Cyrillic. Only in files that need them.
const MORE: &[(u32, u32)] = &[(0x100, 0x17f), (0x218, 0x21b), (0x386, 0x3ce), (0x400, 0x45f), (0x490, 0x491)];

const CUTS: [Cut; 3] = [
    ("REGULAR", notosans::REGULAR_TTF, CORE),
    ("BOLD", notosans::BOLD_TTF, CORE),
    ("MORE", notosans::REGULAR_TTF, MORE),
];

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=drills");
    println!("cargo::rerun-if-changed=build.rs");
    // `cfg!(checked)`: what tests assert while the program runs, and nobody has to wait for in a release.
    println!("cargo::rustc-check-cfg=cfg(checked)");
    let debug = std::env::var("PROFILE").is_ok_and(|profile| profile == "debug");
    if debug || std::env::var_os("CARGO_CFG_DEBUG_ASSERTIONS").is_some() {
        println!("cargo::rustc-cfg=checked");
    }
    let folder = std::env::var("OUT_DIR")?;
    let mut source = String::new();
    for cut in CUTS {
        source.push_str(&written(&cut, Path::new(&folder))?);
    }
    fs::write(Path::new(&folder).join("font.rs"), source)?;
    Ok(())
}

/// Writes the file of a cut, ready to stand in a page's file, and gives the source of its table.
fn written((name, font, ranges): &Cut, folder: &Path) -> Result<String, Box<dyn Error>> {
    let face = Face::parse(font, 0)?;
    let per_mille = |units: i32| (units * 2000 / i32::from(face.units_per_em()) + units.signum()) / 2;
    let mut remapper = GlyphRemapper::new();
    let mut glyphs = String::new();
    for letter in ranges.iter().flat_map(|&(first, last)| first..=last) {
        let Some(glyph) = char::from_u32(letter).and_then(|letter| face.glyph_index(letter)) else { continue };
        let advance = per_mille(i32::from(face.glyph_hor_advance(glyph).unwrap_or(0)));
        write!(glyphs, "({letter}, {}, {advance}), ", remapper.remap(glyph.0))?;
    }
    let small = subset(font, 0, &remapper)?;
    let file = format!("{}.ttf.z", name.to_lowercase());
    fs::write(folder.join(&file), compress_to_vec_zlib(&small, 10))?;
    let bounds = face.global_bounding_box();
    let bounds = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(|side| per_mille(i32::from(side)));
    Ok(format!(
        "static {name}: Cut = Cut {{ name: \"{name}\", file: include_bytes!(concat!(env!(\"OUT_DIR\"), \"/{file}\")), length: {}, glyphs: &[{glyphs}], bounds: {bounds:?}, ascent: {}, descent: {}, cap_height: {} }};\n",
        small.len(),
        per_mille(i32::from(face.ascender())),
        per_mille(i32::from(face.descender())),
        per_mille(i32::from(face.capital_height().unwrap_or(714))),
    ))
}
