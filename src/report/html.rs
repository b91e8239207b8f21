//! The report as one page for a browser, with the figures of what went wrong. Nothing on it comes from elsewhere, and nothing
//! runs in it.

use super::text::TeachDepth;
use super::{
    BEFORE_HEADING, BESIDE_HEADING, FIRST_HEADING, FirstPage, MARKS, Member, PlanTold, Planned, Report, TEACH_HEADING,
    Teach, besides_words, blocks, closing_lines, first_page, member_words, seen_words, skills_words, standing_words,
    teach_parts,
};
use crate::problem::{TEXT_MM, realise};
use crate::scene::svg;
use crate::session::{SAFETY, sentence};
use crate::skills;
use std::fmt::{self, Display, Write};

/// How it looks, on a screen and printed.
const STYLE: &str = "body{font:16px/1.45 sans-serif;max-width:52rem;margin:2rem auto;padding:0 1rem;color:#222;background:#fff}\
h1{font-size:1.5rem}h2{font-size:1.2rem;margin-top:2rem}h3{font-size:1rem;margin:1.4rem 0 .3rem}\
table{border-collapse:collapse;display:block;overflow-x:auto}th,td{padding:.25rem .7rem .25rem 0;text-align:left;white-space:nowrap}\
tr{border-bottom:1px solid #ccc}p{margin:.3rem 0}.quiet{color:#555;font-size:.9rem}.under{margin-left:1.2rem}\
figure{margin:.8rem 0 .8rem 1.2rem;padding:.6rem .8rem;border-left:3px solid #ccc}figure svg{max-width:100%;height:auto}\
@media print{body{margin:0}h3,figure{break-inside:avoid}}";

/// The side of a figure at most, in mm.
const FIGURE_MM: f64 = 80.0;
/// Figures for one thing to teach.
const FIGURES: usize = 2;

/// The page: the first page of the report at its top. `name` shows somebody: their name, or initials where others see it.
#[must_use]
pub fn html(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String) -> String {
    let first = first_page(report, plan, &name);
    let title = &first.title;
    let mut page = Page(String::new());
    page.put(&format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>",
        Plain(title)
    ));
    page.element("h1", "", title);
    if report.members.is_empty() {
        page.element("p", "", "Nobody is here yet.");
    } else {
        begin(&first, report, &name, &mut page);
        teach(report, &name, &mut page);
        page.element("h2", "", "One by one");
        report.members.iter().for_each(|member| one(member, report, &name, &mut page));
    }
    page.element("h2", "", "What this rests on");
    closing_lines(report).iter().for_each(|line| page.element("p", "quiet", line));
    page.element("p", "quiet", SAFETY);
    page.put("</body>\n</html>");
    page.0
}

/// What stands on the first page.
fn begin(first: &FirstPage, report: &Report, name: &dyn Fn(&str) -> String, page: &mut Page) {
    first.ready.iter().for_each(|line| page.element("p", "", line));
    table(report, name, page);
    match &first.planned {
        Some(planned) => {
            self::planned(planned, page);
            if !first.first.is_empty() {
                page.element("h2", "", BESIDE_HEADING);
            }
        }
        None => page.element("h2", "", FIRST_HEADING),
    }
    page.put("<ol>");
    first.first.iter().for_each(|line| page.element("li", "", line));
    page.put("</ol>");
    first.stale.iter().for_each(|line| page.element("p", "", line));
    if !first.teach.is_empty() {
        page.element("h2", "", TEACH_HEADING);
    }
    for teach in &first.teach {
        page.element("p", "", &teach.what);
        for (class, text) in [("under", &teach.how), ("under quiet", &teach.evidence)] {
            if !text.is_empty() {
                page.element("p", class, text);
            }
        }
    }
    page.element("h2", "", BEFORE_HEADING);
    first.before.iter().for_each(|line| page.element("p", "", line));
}

/// The plan of an evening: who does what when.
fn planned(planned: &Planned, page: &mut Page) {
    page.element("h2", "", &planned.heading);
    page.put("<table>");
    page.row("th", "", &planned.times);
    planned.rows.iter().for_each(|(name, words)| page.row("td", name, words));
    page.put("</table>");
    planned.notes.iter().chain(&planned.needs).for_each(|line| page.element("p", "", line));
}

/// The table, with what comes next behind each.
fn table(report: &Report, name: &dyn Fn(&str) -> String, page: &mut Page) {
    for mut block in blocks(report, name, report.standard.skills.len()) {
        block.heads.push("next".to_owned());
        for ((_, cells), member) in block.rows.iter_mut().zip(&report.members) {
            cells.push(member.next_words());
        }
        page.put("<table>");
        page.row("th", "", &block.heads);
        block.rows.iter().for_each(|(name, cells)| page.row("td", name, cells));
        page.row("th", "ready", &block.ready);
        page.put("</table>");
    }
    page.element("p", "quiet", &skills_words(report));
    page.element("p", "quiet", MARKS);
}

fn teach(report: &Report, name: &dyn Fn(&str) -> String, page: &mut Page) {
    let mut items = report.teach.iter();
    let mut open: Option<&Teach> = None;
    for (depth, text) in teach_parts(report, name) {
        if matches!(depth, TeachDepth::Item | TeachDepth::Remark) {
            // What belongs to an item ends where the next one begins.
            figures(open.take(), page);
        }
        match depth {
            TeachDepth::Heading => page.element("h2", "", &text),
            TeachDepth::Item => {
                page.element("h3", "", &text);
                open = items.next();
            }
            TeachDepth::Remark => page.element("p", "", &text),
            TeachDepth::Detail => page.element("p", "under", &text),
            TeachDepth::Evidence => page.element("p", "under quiet", &text),
        }
    }
    figures(open, page);
}

/// Problems in which it happened, as they were asked, with what is right and how one comes to it.
fn figures(teach: Option<&Teach>, page: &mut Page) {
    let examples = teach.into_iter().flat_map(|teach| &teach.members).flat_map(|member| &member.examples);
    for example in examples.take(FIGURES) {
        // Records may name problems that this program does not know any more.
        let problem = skills::read_code(&example.code).ok().and_then(|code| realise(&code).ok());
        let Some(problem) = problem else { continue };
        page.put("<figure>");
        page.element("p", "quiet", &format!("{} ({})", problem.skill().title, example.code));
        page.element("p", "", problem.prompt());
        page.put(&problem.scene(FIGURE_MM, FIGURE_MM).map(|scene| svg(&scene, TEXT_MM)).unwrap_or_default());
        page.element("p", "", &format!("Said {}.", example.said));
        problem.step_lines().iter().for_each(|step| page.element("p", "quiet", step));
        page.put("</figure>");
    }
}

fn one(member: &Member, report: &Report, name: &dyn Fn(&str) -> String, page: &mut Page) {
    page.element("h3", "", &member_words(member, name));
    page.element("p", "", &sentence(&member.ready_for(&report.standard.title)));
    member.cautions(report.day).iter().for_each(|caution| page.element("p", "quiet", caution));
    for cell in &member.cells {
        let standing = standing_words(member, cell);
        page.element(
            "p",
            "under",
            &format!("{} {}, level {}: {standing}", cell.skill.mark, cell.skill.title, cell.level),
        );
        cell.seen.iter().for_each(|seen| page.element("p", "under quiet", &seen_words(seen)));
    }
    besides_words(member).iter().for_each(|besides| page.element("p", "under quiet", besides));
}

/// A page that is being written.
struct Page(String);

impl Page {
    fn put(&mut self, html: &str) {
        self.0.push_str(html);
        self.0.push('\n');
    }

    /// An element with this text; `class` may be empty.
    fn element(&mut self, element: &str, class: &str, text: &str) {
        let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}\"") };
        self.put(&format!("<{element}{class}>{}</{element}>", Plain(text)));
    }

    fn row(&mut self, element: &str, first: &str, cells: &[String]) {
        let mut row = format!("<tr><{element}>{}</{element}>", Plain(first));
        for cell in cells {
            // Writing to a string cannot fail.
            let _ = write!(row, "<{element}>{}</{element}>", Plain(cell));
        }
        self.put(&format!("{row}</tr>"));
    }
}

/// Text as a browser shows it and never takes for anything else.
struct Plain<'a>(&'a str);

impl Display for Plain<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for sign in self.0.chars() {
            match sign {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                _ => f.write_char(sign)?,
            }
        }
        Ok(())
    }
}
