//! The PDF file around the pages: its tree, the fonts that its letters are of, and nothing that depends on the day.

use super::Sheet;
use super::font::{CUTS, Cut};
use super::pressed::{FONTS, Pressed, TINT, points, thousandths};
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Settings, Str, TextStr};
use std::collections::BTreeSet;

/// As short as possible.
pub(super) const SETTINGS: Settings = Settings { pretty: false };
/// How hard pages are pressed together, 0 to 10: past this they take twice the time for two parts in a hundred.
const LEVEL: u8 = 6;
const IDENTITY: SystemInfo<'_> = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// Gives out the numbers of objects.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// The file of these pages.
pub(super) fn written(sheet: Sheet, title: &str, pages: Vec<Pressed>) -> Vec<u8> {
    let mut numbers = Numbers(0);
    let mut pdf = Pdf::with_settings(SETTINGS);
    let (catalog, tree, info, tint) = (numbers.next(), numbers.next(), numbers.next(), numbers.next());
    pdf.catalog(catalog).pages(tree).lang(TextStr("en"));
    pdf.document_info(info).title(TextStr(title)).creator(TextStr("needlewise"));
    pdf.ext_graphics(tint).non_stroking_alpha(0.25);

    let used: BTreeSet<usize> = pages.iter().flat_map(|page| page.cuts.iter().copied()).collect();
    let fonts: Vec<(usize, Ref)> = used.into_iter().map(|cut| (cut, font(&mut pdf, CUTS[cut], &mut numbers))).collect();
    let ids: Vec<(Ref, Ref)> = pages.iter().map(|_| (numbers.next(), numbers.next())).collect();
    let count = i32::try_from(ids.len()).unwrap_or(i32::MAX);
    pdf.pages(tree).kids(ids.iter().map(|(page, _)| *page)).count(count);
    let paper = Rect::new(0.0, 0.0, points(sheet.width_mm()), points(sheet.height_mm()));
    for (pressed, (page_id, content_id)) in pages.into_iter().zip(ids) {
        let mut page = pdf.page(page_id);
        page.media_box(paper).parent(tree).contents(content_id);
        let mut resources = page.resources();
        let mut named = resources.fonts();
        for (cut, id) in fonts.iter().filter(|(cut, _)| pressed.cuts.contains(cut)) {
            named.pair(Name(FONTS[*cut]), *id);
        }
        named.finish();
        if pressed.tinted {
            resources.ext_g_states().pair(Name(TINT), tint);
        }
        resources.finish();
        page.finish();
        let content = compress_to_vec_zlib(&pressed.content.finish(), LEVEL);
        pdf.stream(content_id, &content).filter(Filter::FlateDecode);
    }
    pdf.finish()
}

/// Writes a font and gives its number.
fn font(pdf: &mut Pdf, cut: &Cut, numbers: &mut Numbers) -> Ref {
    let [whole, letters, about, data, unicode] = std::array::from_fn(|_| numbers.next());
    let name = format!("NDLWSE+NotoSans-{}", cut.name);
    let name = Name(name.as_bytes());
    pdf.type0_font(whole)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(letters)
        .to_unicode(unicode);

    let mut glyphs: Vec<(u16, u16)> = cut.letters().map(|(_, id, advance)| (id, advance)).collect();
    crate::numbers::arrange(&mut glyphs, Ord::cmp);
    glyphs.dedup();
    let mut cid = pdf.cid_font(letters);
    cid.subtype(CidFontType::Type2).base_font(name).system_info(IDENTITY).font_descriptor(about);
    cid.cid_to_gid_map_predefined(Name(b"Identity")).default_width(0.0);
    let mut widths = cid.widths();
    for run in glyphs.chunk_by(|one, next| one.0 + 1 == next.0) {
        widths.consecutive(run[0].0, run.iter().map(|(_, advance)| f32::from(*advance)));
    }
    widths.finish();
    cid.finish();

    let [left, bottom, right, top] = cut.bounds.map(thousandths);
    pdf.font_descriptor(about)
        .name(name)
        .flags(FontFlags::SYMBOLIC)
        .bbox(Rect::new(left, bottom, right, top))
        .italic_angle(0.0)
        .ascent(thousandths(cut.ascent))
        .descent(thousandths(cut.descent))
        .cap_height(thousandths(cut.cap_height))
        .stem_v(if cut.name == "BOLD" { 140.0 } else { 80.0 })
        .font_file2(data);
    // The font lies in the program as it stands in the file.
    pdf.stream(data, cut.file).filter(Filter::FlateDecode).pair(Name(b"Length1"), cut.length);

    let mut map: UnicodeCmap<u16> = UnicodeCmap::new(Name(b"Letters"), IDENTITY);
    let mut told = BTreeSet::new();
    for (letter, id, _) in cut.letters() {
        // A blank that does not break is drawn as any blank, and read back as one.
        if told.insert(id) {
            map.pair(id, letter);
        }
    }
    let map = compress_to_vec_zlib(&map.finish(), LEVEL);
    pdf.cmap(unicode, &map).filter(Filter::FlateDecode);
    whole
}
