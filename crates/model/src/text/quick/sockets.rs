//! Which sockets words mean, and which pair of sockets a link takes where the words leave it open.

use super::super::links::mates;
use super::super::names::{self, Found};
use super::Quick;
use super::words::{Word, phrase};
use crate::{Body, Class, Direction, Form, LeadKind, Socket, Wires, Wiring, same_name};

/// The sockets that words mean.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Named {
    /// By place, in the order said.
    pub(super) sockets: Vec<usize>,
    /// Any one of them will do; else each is meant.
    pub(super) any: bool,
    /// The plug that goes in, where the words mean one side of a combined socket.
    pub(super) form: Option<Form>,
}

/// Words that say *socket* and nothing more.
const FILLERS: [&str; 12] =
    ["channel", "socket", "number", "no", "and", "on", "of", "at", "in", "out", "to", "lead"];

/// Sockets of `body` that all the words mean together; `None` when they mean none.
pub(super) fn named(body: &Body, words: &[Word], way: Direction) -> Option<Named> {
    if words.is_empty() {
        return None;
    }
    let right_way = |i: &usize| body.sockets.get(*i).is_some_and(|s| s.direction() == way);
    let each = |sockets: Vec<usize>| Some(Named { sockets, any: false, form: None });
    let typed: Vec<&str> = words.iter().map(|w| w.typed.as_str()).collect();
    for whole in [typed.join(" "), phrase(words)] {
        if let Found::One(i) = names::socket(body, &whole, way)
            && right_way(&i)
        {
            return each(vec![i]);
        }
    }
    let core: Vec<&Word> = words.iter().filter(|w| !FILLERS.contains(&w.house.as_str())).collect();
    let all = || (0..body.sockets.len()).filter(right_way).collect::<Vec<_>>();
    let any = |keep: &dyn Fn(&Socket) -> bool, form: Option<Form>| {
        let sockets: Vec<usize> =
            all().into_iter().filter(|i| body.sockets.get(*i).is_some_and(keep)).collect();
        (!sockets.is_empty()).then_some(Named { sockets, any: true, form })
    };
    if core.is_empty() {
        return any(&|s| s.classes().iter().any(|c| c.is_sound()), None);
    }
    if core.iter().all(|w| w.number().is_some()) {
        let found: Option<Vec<usize>> =
            core.iter().map(|w| body.socket(&w.house).filter(|i| right_way(i))).collect();
        if let Some(found) = found {
            return each(found);
        }
    }
    if let Some(found) = sides(body, &core, way) {
        return each(found);
    }
    let said: Vec<&str> = core.iter().map(|w| w.house.as_str()).collect();
    let class = match said.as_slice() {
        ["mic"] => Some(Class::Mic),
        ["line"] => Some(Class::Line),
        ["speaker"] => Some(Class::Speaker),
        ["inst" | "instrument"] => Some(Class::Inst),
        ["phones" | "headphone"] => Some(Class::Phones),
        _ => None,
    };
    if let Some(class) = class {
        // A microphone goes into the XLR of a combined socket: that side is meant.
        let side = |s: &Socket| s.input()?.accepts.iter().find(|a| a.class == class)?.only_on.clone();
        let form = all().into_iter().filter_map(|i| body.sockets.get(i)).find_map(side);
        return any(&|s| s.classes().contains(&&class), form.filter(|_| class == Class::Mic));
    }
    let parts = |name: &str| crate::fold(name).split([' ', '/']).map(str::to_owned).collect::<Vec<_>>();
    let holds = |said: &[&str]| -> Vec<usize> {
        all()
            .into_iter()
            .filter(|i| {
                body.sockets.get(*i).is_some_and(|s| {
                    let parts = parts(&s.name);
                    said.iter().all(|w| parts.iter().any(|p| p == w))
                })
            })
            .collect()
    };
    let found = holds(&said);
    if !found.is_empty() {
        return each(found);
    }
    // `aux 1` of a mixer that has one AUX.
    match said.as_slice() {
        [word, "1"] if holds(&[word]).len() == 1 => each(holds(&[word])),
        _ => None,
    }
}

/// `left right`, `main left`: sockets by their side.
fn sides(body: &Body, core: &[&Word], way: Direction) -> Option<Vec<usize>> {
    let (sides, others): (Vec<&Word>, Vec<&Word>) = core.iter().partition(|w| w.is("left") || w.is("right"));
    if sides.is_empty() {
        return None;
    }
    let find = |side: &Word| {
        let letter = if side.is("left") { ["l", "left"] } else { ["r", "right"] };
        (0..body.sockets.len()).find(|i| {
            body.sockets.get(*i).is_some_and(|s| {
                let name = crate::fold(&s.name);
                let parts: Vec<&str> = name.split([' ', '/']).collect();
                s.direction() == way
                    && parts.iter().any(|p| letter.contains(p))
                    && others.iter().all(|o| parts.contains(&o.house.as_str()))
            })
        })
    };
    sides.into_iter().map(find).collect()
}

/// One end of a link to be made.
#[derive(Clone, Debug)]
pub(super) struct End {
    pub(super) piece: usize,
    pub(super) named: Option<Named>,
}

/// A pair of sockets, and the leads between.
pub(super) struct Pair {
    pub(super) out: usize,
    pub(super) into: usize,
    /// Kinds of lead, as they are written; empty: the piece's own cable.
    pub(super) leads: Vec<String>,
    /// A lead nobody typed.
    pub(super) guessed: Option<String>,
}

fn carries(kind: &LeadKind, class: &Class) -> bool {
    kind.carries.contains(class) || (*class == Class::Phones && kind.carries.contains(&Class::Line))
}

fn agree(out: &Socket, into: &Socket) -> bool {
    out.output()
        .is_some_and(|o| into.takes(&o.class) || (o.class == Class::Phones && into.takes(&Class::Line)))
}

/// The pair that costs least: what nobody would do costs most.
pub(super) fn choose(q: &Quick<'_>, from: &End, to: &End, typed: &[LeadKind]) -> Option<Pair> {
    let (a, z) = (q.pieces.get(from.piece)?, q.pieces.get(to.piece)?);
    let form = to.named.as_ref().and_then(|n| n.form.as_ref());
    let candidates = |end: &End, body: &Body, way: Direction| -> Vec<usize> {
        match &end.named {
            Some(n) => n.sockets.clone(),
            None => (0..body.sockets.len())
                .filter(|i| body.sockets.get(*i).is_some_and(|s| s.direction() == way))
                .collect(),
        }
    };
    let to_performer = z
        .placement()
        .is_some_and(|p| p.level_at(crate::AUDIENCE).is_none_or(|l| l.value < 85.0) && !p.hears.is_empty());
    let list = q.lead_kind_list();
    let mut best: Option<(u32, Pair)> = None;
    for out in candidates(from, &a.body, Direction::Out) {
        for into in candidates(to, &z.body, Direction::In) {
            let (Some(o), Some(i)) = (a.body.sockets.get(out), z.body.sockets.get(into)) else { continue };
            let (full_out, full_in) =
                (q.used.contains(&(from.piece, out)), q.used.contains(&(to.piece, into)));
            let by_name = |end: &End| end.named.as_ref().is_some_and(|n| !n.any);
            if (full_out && !by_name(from)) || (full_in && !by_name(to)) {
                continue;
            }
            let Some(class) = o.output().map(|o| o.class.clone()) else { continue };
            let mut cost = 0;
            if !agree(o, i) {
                // Said by name, it is read as said, and judged later; else it is not what is meant.
                if from.named.is_none() && to.named.is_none() {
                    continue;
                }
                if class.is_supply() || i.is_supply() {
                    continue;
                }
                cost += 1_000;
            }
            let Some((leads, guessed, more)) =
                leads(o, i, &class, typed, &list, form, from.named.is_some() || to.named.is_some())
            else {
                continue;
            };
            cost += more;
            cost += 4 * u32::from(
                class != Class::Mic && !class.is_supply() && i.takes(&Class::Mic) && to.named.is_none(),
            );
            cost += 6 * u32::from(class == Class::Phones && !i.takes(&Class::Phones));
            cost += 6 * u32::from(same_name(&o.name, "THRU") || same_name(&o.name, "AUX"));
            if to_performer && crate::fold(&o.name).starts_with("aux") {
                cost = cost.saturating_sub(12);
            } else if to_performer {
                cost += 5;
            }
            if best.as_ref().is_none_or(|(c, _)| cost < *c) {
                best = Some((cost, Pair { out, into, leads, guessed }));
            }
        }
    }
    best.map(|(_, pair)| pair)
}

/// Two balanced sockets want a balanced lead, a single signal wants a plain one.
fn suits(kind: &LeadKind, out: &Socket, into: &Socket) -> bool {
    match (out.wires, into.wires) {
        // Left and right into one signal: through resistors, else the voice cancels.
        (Wires::Stereo, Wires::Bal | Wires::Ts) => kind.wiring == Wiring::Sum,
        (Wires::Ts, _) | (_, Wires::Ts) => kind.wiring == Wiring::Ts,
        _ => kind.wiring != Wiring::Ts,
    }
}

/// The typed leads when they fit, with an adapter if need be; or a lead that does. With what it costs.
fn leads(
    out: &Socket,
    into: &Socket,
    class: &Class,
    typed: &[LeadKind],
    list: &[LeadKind],
    form: Option<&Form>,
    said: bool,
) -> Option<(Vec<String>, Option<String>, u32)> {
    let names = |kinds: &[&LeadKind]| kinds.iter().map(|k| k.name.clone()).collect::<Vec<_>>();
    let chain: Vec<&LeadKind> = typed.iter().collect();
    if mates(out, &chain, into, form) {
        return Some((names(&chain), None, 0));
    }
    if !typed.is_empty() {
        // An adapter at either end, one that may carry it before one that may not.
        let mut adapters: Vec<&LeadKind> = list.iter().filter(|k| k.adapter).collect();
        adapters.sort_by_key(|k| !carries(k, class));
        for adapter in adapters {
            let after: Vec<&LeadKind> = chain.iter().copied().chain([adapter]).collect();
            let before: Vec<&LeadKind> = [adapter].into_iter().chain(chain.iter().copied()).collect();
            for longer in [after, before] {
                if mates(out, &longer, into, form) {
                    return Some((names(&longer), Some(adapter.name.clone()), 100));
                }
            }
        }
        // It does not fit: read as typed, and told.
        return Some((names(&chain), None, 2_000));
    }
    let one = list
        .iter()
        .filter(|k| !k.adapter && mates(out, &[k], into, form))
        .min_by_key(|k| (!carries(k, class), !suits(k, out, into), k.points));
    let Some(one) = one else {
        if let Some(two) = with_adapter(out, into, class, list, form) {
            let guess = two.map(|k| k.name.as_str()).join(" and ");
            return Some((names(&two), Some(guess), 200));
        }
        // Nothing goes between: read as said where it was said, and told.
        return Some((Vec::new(), None, 5_000)).filter(|_| said);
    };
    let cost = if carries(one, class) { u32::from(one.points > 0) * 20 } else { 1_500 };
    Some((vec![one.name.clone()], Some(one.name.clone()), cost))
}

/// An adapter and a lead behind it, both made for what comes.
fn with_adapter<'a>(
    out: &Socket,
    into: &Socket,
    class: &Class,
    list: &'a [LeadKind],
    form: Option<&Form>,
) -> Option<[&'a LeadKind; 2]> {
    let fine = |k: &&LeadKind| carries(k, class);
    let mut best: Option<((bool, u32), [&LeadKind; 2])> = None;
    for adapter in list.iter().filter(|k| k.adapter).filter(fine) {
        for lead in list.iter().filter(|k| !k.adapter).filter(fine) {
            let key = (!suits(lead, out, into), adapter.points + lead.points);
            if best.as_ref().is_none_or(|(k, _)| key < *k) && mates(out, &[adapter, lead], into, form) {
                best = Some((key, [adapter, lead]));
            }
        }
    }
    best.map(|(_, two)| two)
}
