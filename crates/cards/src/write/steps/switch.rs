//! The switch of an input that takes more than one signal: what it has to stand on.

use check::plan::End;
use engine::Do;

use super::super::book::Book;
use super::super::leads::Plugged;

/// What the switch of a combined input has to stand on, when the plug goes in there.
pub(in super::super) fn switch(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    if p.end == End::To { wanted(book, p) } else { None }
}

/// The same for an input whose plug stays in while the other end of the lead is moved. No step would say it otherwise.
pub(super) fn kept_switch(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    if p.kept.is_some() && p.end == End::From { wanted(book, p) } else { None }
}

/// How many of an act's seconds go to the input whose plug stayed in: its switch is set in a step of its own.
pub(super) fn setting_seconds(book: Book<'_>, does: &Do) -> i32 {
    match (does, Plugged::of(does)) {
        (Do::Plug { level: true, .. }, Some(p)) if kept_switch(book, &p).is_some() => {
            book.c.problem.spec.steps.level
        }
        _ => 0,
    }
}

fn wanted(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    let (to, from) = (book.socket(p.to)?, book.socket(p.from)?);
    let takes = to.classes();
    let class = &from.output()?.class;
    // On a combined socket with a window for each plug the plug itself decides.
    (class.is_sound() && takes.contains(&class) && switched(to)).then(|| class.to_string())
}

/// What the switch of an input stood on before anything was moved; `None` where nothing was plugged or there is none.
pub(in super::super) fn stood(book: Book<'_>, to: check::ids::SocketId) -> Option<String> {
    let link = book.c.problem.spec.patch.iter().find(|l| l.to == to)?;
    let class = &book.socket(link.from)?.output()?.class;
    let socket = book.socket(to)?;
    (class.is_sound() && socket.classes().contains(&class) && switched(socket)).then(|| class.to_string())
}

/// Is there a switch to set: does one connector take several classes?
fn switched(socket: &model::Socket) -> bool {
    // One connector that takes two classes needs no switch: the level range is what differs.
    let combined = socket.connectors.len() > 1;
    let sound: Vec<_> = socket.input().map(|i| i.accepts.as_slice()).unwrap_or_default().iter().collect();
    combined && sound.iter().filter(|a| a.class.is_sound() && a.only_on.is_none()).count() > 1
}
