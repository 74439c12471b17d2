//! `explain`: a help page.

use tasks::view::Explain;
use tasks::{Bad, explain};

use crate::Exit;
use crate::show::Out;

pub(crate) fn run(name: Option<&str>, out: &mut Out) -> Result<Exit, Bad> {
    let it = match name {
        Some(name) => explain::explain(name)?,
        None => explain::list(),
    };
    out.answer(&it, |it: &Explain, out| out.line(it.page.trim_end()));
    Ok(Exit::Answered)
}
