//! `needlewise judge`: one answer to one problem.

use super::args::{Format, JudgeArgs};
use super::fault::Fault;
use crate::plain::told_lines;
use crate::problem::{judge, realise};
use crate::session::Told;
use crate::skills;
use std::io::{self, BufWriter, Write};

/// Runs the command.
pub(super) fn run(args: JudgeArgs) -> Result<(), Fault> {
    let code = skills::read_code(&args.code).map_err(Fault::input)?;
    let problem = realise(&code).map_err(Fault::input)?;
    let texts = problem.question().texts_from_words(&args.answer).map_err(Fault::input)?;
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    let judgement = judge(&problem, &texts).map_err(Fault::input)?;
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Json => super::json_line(&mut out, &problem.verdict_json(&judgement))?,
        Format::Text => {
            for line in told_lines(&Told::new(&problem, &judgement)) {
                writeln!(out, "{line}")?;
            }
        }
    }
    Ok(out.flush()?)
}
