//! The café duo, from the bytes of its file to all its cards as one page.

use std::path::{Path, PathBuf};

use check::Judge;
use check::compile::Compiled;
use check::plan::Plan;
use engine::{Answer, Limit, Proved};

use crate::{Said, folder};

/// The file and what was found when it was compared.
#[derive(Debug)]
pub struct Cafe {
    /// The rig file.
    pub path: PathBuf,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Where the task may write.
    pub to: PathBuf,
    said: String,
}

impl Said for Cafe {
    fn said(&self) -> String {
        self.said.clone()
    }
}

impl Cafe {
    /// The task as a performer runs it: the file read, the page written to the disk.
    ///
    /// # Errors
    /// As the task has them.
    pub fn task(&self) -> Result<usize, String> {
        let asked = tasks::cards::Asked { to: &self.to, date: None, limit: None };
        tasks::cards::cards(&self.path, &asked, &mut |_, _| {}).map(|c| c.bytes).map_err(|b| format!("{b:?}"))
    }

    /// The same in memory.
    ///
    /// # Errors
    /// When the rig cannot be reckoned with.
    pub fn page(&self) -> Result<String, String> {
        let c = compiled(&self.bytes)?;
        Ok(page(&c, &answers(&c)))
    }
}

/// The café, once its page is the same bytes twice and the same as the task writes, with an answer for every fault that is heard.
///
/// # Errors
/// When something is not as said.
pub fn compared(scratch: &Path) -> Result<Cafe, String> {
    let path = folder("examples/harbour-cafe/harbour-cafe.rig");
    let bytes = crate::bytes(&path)?;
    let to = scratch.join("cafe-to-cards.html");
    let mut cafe = Cafe { path, bytes, to, said: String::new() };

    let c = compiled(&cafe.bytes)?;
    let answers = answers(&c);
    let first = page(&c, &answers);
    if first != cafe.page()? {
        return Err("the page is not the same bytes twice".to_owned());
    }
    cafe.task()?;
    if crate::bytes(&cafe.to)? != first.as_bytes() {
        return Err("the page made in memory is not the one that the task writes".to_owned());
    }
    let told = told(&c, &answers);
    let deck = cards::write::deck(&told);
    if deck.cards.is_empty() {
        return Err("there are no cards".to_owned());
    }
    let mut proofs = [0; 3];
    for (f, answer) in &answers {
        if cards::write::card(&told, *f).is_none() {
            return Err(format!("{} has no card", c.faults.get(*f).map_or("?", |n| n.key.as_str())));
        }
        match answer.now.cover.proved {
            Proved::Order => proofs[0] += 1,
            Proved::Seconds => proofs[1] += 1,
            Proved::No => proofs[2] += 1,
        }
    }
    let [order, seconds, no] = proofs;
    cafe.said = format!(
        "the café's page is the same {} bytes twice and as the task writes it; of {} faults {} are heard, each with a card; \
         {order} proved whole, {seconds} to the seconds, {no} not.",
        first.len(),
        c.faults.len(),
        answers.len()
    );
    Ok(cafe)
}

fn compiled(bytes: &[u8]) -> Result<Compiled, String> {
    let (rig, problems) = model::text::read_bytes(bytes);
    if let Some(problem) = problems.first() {
        return Err(problem.message.clone());
    }
    check::judge_rig(&rig).map_err(|e| e.to_string())
}

/// An answer for every fault whose loss is heard.
fn answers(c: &Compiled) -> Vec<(usize, Answer)> {
    let to_break = seconds(c.rig.show.to_next_break.value);
    let heard = c.faults.iter().enumerate().filter(|(_, named)| {
        let nothing = Judge::new(&c.problem, &named.fault).judge(&Plan::default());
        c.problem.counted.iter().any(|p| !nothing.carried.contains(p))
    });
    heard.map(|(i, n)| (i, engine::answer(&c.problem, &n.fault, Limit::default(), to_break))).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "clamped; and a wrong figure would give another page")]
fn seconds(value: f64) -> i32 {
    value.clamp(0.0, 100_000.0).ceil() as i32
}

fn told<'a>(c: &'a Compiled, answers: &'a [(usize, Answer)]) -> cards::write::Told<'a> {
    let date = c.rig.show.date.clone().unwrap_or_default();
    cards::write::Told { compiled: c, answers, date, lang: "en".to_owned() }
}

fn page(c: &Compiled, answers: &[(usize, Answer)]) -> String {
    cards::html::page(&cards::write::deck(&told(c, answers)))
}
