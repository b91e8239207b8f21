//! `needlewise skills`: the registry.

use super::args::{Format, FormatArgs};
use super::fault::Fault;
use crate::problem::{Family, Level, SkillMeta};
use crate::skills;
use serde::Serialize;
use std::io::{self, BufWriter, Write};

/// A skill as `skills --format json` prints it.
#[derive(Serialize)]
struct SkillJson {
    id: &'static str,
    family: &'static str,
    title: &'static str,
    levels: [u8; 4],
    prerequisites: &'static [&'static str],
    mixups: Vec<&'static str>,
}

impl SkillJson {
    fn new(meta: &'static SkillMeta) -> SkillJson {
        SkillJson {
            id: meta.id,
            family: meta.family.id(),
            title: meta.title,
            levels: Level::ALL.map(Level::number),
            prerequisites: meta.prerequisites,
            mixups: meta.mixups.iter().map(|mixup| mixup.id.as_str()).collect(),
        }
    }
}

/// Runs the command.
pub(super) fn run(args: FormatArgs) -> Result<(), Fault> {
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Json => {
            for meta in skills::metas() {
                super::json_line(&mut out, &SkillJson::new(meta))?;
            }
        }
        Format::Text => text(&mut out)?,
    }
    Ok(out.flush()?)
}

/// Family by family: mark, id, title, and what one can do who has it.
fn text(out: &mut impl Write) -> io::Result<()> {
    let longest = skills::metas().map(|meta| meta.id.len()).max().unwrap_or(0);
    let mut first = true;
    for family in Family::ALL {
        let mut of_family = skills::metas().filter(|meta| meta.family == family).peekable();
        if of_family.peek().is_none() {
            continue;
        }
        if !std::mem::take(&mut first) {
            writeln!(out)?;
        }
        writeln!(out, "{}", family.title())?;
        for meta in of_family {
            writeln!(out, "  {}  {:longest$}  {}", meta.mark, meta.id, meta.title)?;
            writeln!(out, "      {}", meta.can)?;
        }
    }
    Ok(())
}
