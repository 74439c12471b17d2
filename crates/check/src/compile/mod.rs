//! A performer's rig, rounded once into the integer problem.
//!
//! Positions go to the nearest decimetre, a half upwards; windows, lengths and ratings are rounded inward; loads, heights
//! and times outward. So a plan that is valid in whole numbers is valid in metres and watts too.
//!
//! **Levels.** The definition's intervals hold one level; real ones have a usual level and peaks. Here a level stands for
//! its peak less [`CREST`] dB, and a window's top is lowered by as much: then a level fits exactly when its peak does.

mod faults;
mod parts;
mod sockets;

use std::collections::BTreeMap;

use model::{Body, LeadId as ModelLead, Placed, Rig, RouteRef, SocketRef, Spot};

use crate::fault::Fault;
use crate::ids::{FactId, GearId, KnobId, LeadId, RouteId, SocketId};
use crate::pairs::LinkCheck;
use crate::problem::{Nonsense, Problem};
use crate::rules::Rules;
use crate::spec::{
    Battery, Class, Gear, Guard, Knob, Lead, LeadWire, Levels, Link, Listener, Part, Passive, Place,
    Placement, Rank, Route, Sounding, Spec, StepTimes, Wear,
};

pub use faults::{About, Named, NoSuchFault};

/// Peaks over the usual level, dB, that a level in whole numbers is told without. Common practice for spoken and played
/// sources; an output's own peak figure replaces it.
pub const CREST: f64 = 10.0;

/// A rig with its problem, and the way back from one to the other.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// The rig as the performer told it.
    pub rig: Rig,
    /// The rig in whole numbers.
    pub problem: Problem,
    /// Every single fault, in the order of the file.
    pub faults: Vec<Named>,
    first_socket: Vec<usize>,
    first_route: Vec<usize>,
    knobs: Vec<Turn>,
    asked: Vec<(usize, String)>,
}

/// What a knob of the problem is on the gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// A fader, send or mute; where it turns several routes, the first of them.
    Route(RouteRef),
    /// One switch for several inputs: the piece, and which of its banks.
    Bank(model::GearId, usize),
}

/// Compiles a rig, with no more physics than its figures.
///
/// # Errors
/// [`Nonsense`] where the rig cannot be judged at all.
pub fn compile(rig: &Rig, more: &dyn LinkCheck) -> Result<Compiled, Nonsense> {
    let mut book = Book::new(rig);
    let spec = book.spec();
    let problem = Problem::with(spec, more, Rules::ALL)?;
    let mut it = Compiled {
        rig: rig.clone(),
        problem,
        faults: Vec::new(),
        first_socket: book.first_socket,
        first_route: book.first_route,
        knobs: book.knobs,
        asked: book.asked,
    };
    it.faults = faults::every_single(&it, &book.wear);
    Ok(it)
}

impl Compiled {
    /// A socket of the problem, as the rig names it.
    pub fn socket(&self, s: SocketId) -> SocketRef {
        let gear = self.problem.spec.gear_of(s).ix();
        SocketRef { gear: model::GearId(gear), socket: s.ix() - self.first_socket[gear] }
    }

    /// A socket of the rig, in the problem.
    pub fn socket_id(&self, at: SocketRef) -> SocketId {
        SocketId::at(self.first_socket[at.gear.0] + at.socket)
    }

    /// A route of the rig, in the problem.
    pub fn route_id(&self, gear: usize, route: usize) -> RouteId {
        RouteId::at(self.first_route[gear] + route)
    }

    /// What a knob of the problem is.
    pub fn turn(&self, k: KnobId) -> Turn {
        self.knobs[k.ix()]
    }

    /// The route that a fact nobody has checked is about.
    pub fn asked(&self, f: FactId) -> Option<(model::GearId, &model::Route)> {
        let (g, name) = self.asked.get(f.ix())?;
        let routes = &self.rig.gear.get(*g)?.body.routes;
        Some((model::GearId(*g), routes.iter().find(|r| r.name == *name)?))
    }

    /// The taped name of a piece.
    pub fn name(&self, g: GearId) -> &str {
        &self.rig.gear[g.ix()].name
    }

    /// The owner's name of a lead type.
    pub fn lead_name(&self, t: LeadId) -> &str {
        &self.rig.leads[t.ix()].name
    }

    /// `MIXER 1`.
    pub fn label(&self, s: SocketId) -> String {
        self.rig.label(self.socket(s))
    }

    /// The fault that a performer names: `mixer`, `mixer:supply`.
    ///
    /// # Errors
    /// [`NoSuchFault`] with the nearest names.
    pub fn find_fault(&self, name: &str) -> Result<&Named, NoSuchFault> {
        faults::find(&self.faults, name)
    }
}

/// What is gathered while a rig is read into a spec.
struct Book<'r> {
    rig: &'r Rig,
    forms: Vec<String>,
    classes: Vec<Class>,
    class_of: BTreeMap<model::Class, usize>,
    first_socket: Vec<usize>,
    first_route: Vec<usize>,
    knobs: Vec<Turn>,
    /// What nobody has checked, and which route of which piece asks it.
    facts: Vec<String>,
    asked: Vec<(usize, String)>,
    /// Knob of each bank, by piece and bank.
    banks: BTreeMap<(usize, usize), KnobId>,
    /// Of each thing that is used up: its number, and how many pieces are a handful.
    wear: BTreeMap<String, (usize, u32)>,
}

impl<'r> Book<'r> {
    fn new(rig: &'r Rig) -> Self {
        let firsts = |count: fn(&Body) -> usize| {
            let mut next = 0;
            rig.gear
                .iter()
                .map(|g| {
                    let first = next;
                    next += count(&g.body);
                    first
                })
                .collect::<Vec<_>>()
        };
        Book {
            rig,
            forms: Vec::new(),
            classes: Vec::new(),
            class_of: BTreeMap::new(),
            first_socket: firsts(|b| b.sockets.len()),
            first_route: firsts(|b| b.routes.len()),
            knobs: Vec::new(),
            facts: Vec::new(),
            asked: Vec::new(),
            banks: BTreeMap::new(),
            wear: BTreeMap::new(),
        }
    }

    fn spec(&mut self) -> Spec {
        let rig = self.rig;
        let wear = self.handfuls();
        let knobs = self.turn_list();
        let sockets = self.sockets();
        let leads = rig.leads.iter().map(|l| self.lead(l)).collect();
        let routes = self.routes();
        let gear = rig.gear.iter().enumerate().map(|(i, g)| self.gear(i, g)).collect();
        let patch = rig
            .links
            .iter()
            .map(|l| Link {
                from: self.socket_id(l.from),
                to: self.socket_id(l.to),
                via: l.via.iter().map(|ModelLead(i)| LeadId::at(*i)).collect(),
            })
            .collect();
        Spec {
            name: rig.name.clone(),
            home: spot(Some(rig.home), Spot::default()),
            break_limit: floor(rig.show.break_length.value / 2.0),
            steps: steps(&rig.times),
            walk_dm_per_s: floor(rig.times.walk.value * 10.0).max(1),
            tail_kept: true,
            forms: std::mem::take(&mut self.forms),
            classes: std::mem::take(&mut self.classes),
            sources: rig.sources.iter().map(|s| s.name.clone()).collect(),
            listeners: rig
                .listeners
                .iter()
                .map(|l| Listener { name: l.name.clone(), need: ceil(l.need.value) })
                .collect(),
            parts: parts(rig),
            leads,
            wear,
            gear,
            sockets,
            routes,
            knobs,
            facts: std::mem::take(&mut self.facts),
            patch,
        }
    }

    fn socket_id(&self, at: SocketRef) -> SocketId {
        SocketId::at(self.first_socket[at.gear.0] + at.socket)
    }

    /// What is used up, counted in handfuls: two cells that one mend uses are fetched with one reach. A handful is the
    /// largest that every mend of the rig uses a whole number of.
    fn handfuls(&mut self) -> Vec<Wear> {
        let rig = self.rig;
        let uses = || rig.gear.iter().flat_map(|g| &g.body.mends).filter_map(|m| m.uses.as_ref());
        let handful = |what: &str| {
            uses().filter(|(w, _)| model::same_name(w, what)).fold(0, |all, (_, n)| gcd(all, *n)).max(1)
        };
        let mut wear: Vec<Wear> = Vec::new();
        for w in &rig.wear {
            let n = handful(&w.what);
            // One put together from stage and bag opens the bag.
            let (stage, all) = (w.on_stage / n, w.on_stage.saturating_add(w.in_case) / n);
            self.wear.insert(parts::fold(&w.what), (wear.len(), n));
            wear.push(Wear { name: w.what.clone(), stage: count(stage), case: count(all - stage) });
        }
        // What a mend uses up and nobody carries is there with a count of none.
        for (what, _) in uses() {
            self.wear.entry(parts::fold(what)).or_insert_with(|| {
                wear.push(Wear { name: what.clone(), stage: 0, case: 0 });
                (wear.len() - 1, handful(what))
            });
        }
        wear
    }

    /// Knobs of routes first, in the order of the file, then banks of phantom, then mutes.
    fn turn_list(&mut self) -> Vec<Knob> {
        let mut knobs = Vec::new();
        for (g, gear) in self.rig.gear.iter().enumerate() {
            for (r, route) in gear.body.routes.iter().enumerate() {
                let first = || gear.body.routes.iter().position(|o| o.is_turned_by(route.knob_name()));
                if route.switch != model::Switch::Fixed && first() == Some(r) {
                    let at = RouteRef { gear: model::GearId(g), route: r };
                    self.knobs.push(Turn::Route(at));
                    knobs.push(Knob {
                        name: route.knob_name().to_owned(),
                        gear: GearId::at(g),
                        on: route.switch.is_on(),
                        wait: 0,
                        forgets: false,
                    });
                }
            }
        }
        let times = &self.rig.times;
        let wait = ceil(times.phantom.value + times.phantom_wait.value) - ceil(times.knob.value);
        // Phantom first, then mutes.
        let gear = || self.rig.gear.iter().enumerate();
        for (mutes, (g, gear)) in [false, true].into_iter().flat_map(|m| gear().map(move |x| (m, x))) {
            for (b, bank) in gear.body.banks.iter().enumerate() {
                if mutes == (bank.effect == model::BankEffect::Phantom) {
                    continue;
                }
                self.banks.insert((g, b), KnobId::at(knobs.len()));
                self.knobs.push(Turn::Bank(model::GearId(g), b));
                knobs.push(Knob {
                    name: bank.name.clone(),
                    gear: GearId::at(g),
                    on: bank.on,
                    wait: if mutes { 0 } else { wait.max(0) },
                    forgets: bank.forgets && !mutes,
                });
            }
        }
        knobs
    }

    fn routes(&mut self) -> Vec<Route> {
        let mut routes = Vec::new();
        for (g, gear) in self.rig.gear.iter().enumerate() {
            for route in &gear.body.routes {
                // The knob is known by the first route that it turns.
                let first = gear.body.routes.iter().position(|o| o.is_turned_by(route.knob_name()));
                let turned = route.switch != model::Switch::Fixed;
                let at = first
                    .filter(|_| turned)
                    .map(|r| Turn::Route(RouteRef { gear: model::GearId(g), route: r }));
                let socket =
                    |name: &str| gear.body.socket(name).map(|s| SocketId::at(self.first_socket[g] + s));
                let to: Vec<SocketId> = route.to.iter().filter_map(|n| socket(n)).collect();
                // A route that names no socket of its piece is a problem of the file, told there; here it goes nowhere.
                let from = socket(&route.from);
                routes.push(Route {
                    name: route.name.clone(),
                    gear: GearId::at(g),
                    from: from.unwrap_or(SocketId::at(self.first_socket[g])),
                    to: if from.is_some() { to } else { Vec::new() },
                    gain: sockets::gain(&route.gain),
                    knob: self.knobs.iter().position(|k| Some(*k) == at).map(KnobId::at),
                    on: route.switch.is_on(),
                    points: count(route.points),
                    takes: route.takes.map(sockets::side),
                    guard: self.guard(g, route.guard.as_ref()),
                    passive: self.passive(g, gear, route),
                    only_if: None,
                    mutes: self.mutes(g, gear, &route.name),
                });
            }
        }
        routes
    }

    /// Where the owner does not know it, it is a fact that a plan may rely on, and says so.
    fn passive(&mut self, g: usize, gear: &model::Gear, route: &model::Route) -> Passive {
        // What needs no power passes anyway.
        let powered = gear.needs_power() || gear.body.battery.is_some();
        if !powered {
            Passive::No
        } else if route.passive.origin == model::Origin::DontKnow {
            let name = format!("{} {}", gear.name, route.name);
            self.facts.push(name);
            self.asked.push((g, route.name.clone()));
            Passive::If(FactId::at(self.facts.len() - 1))
        } else if route.passive.value {
            Passive::Yes
        } else {
            Passive::No
        }
    }

    fn mutes(&self, g: usize, gear: &model::Gear, route: &str) -> Vec<KnobId> {
        let banks = gear.body.banks.iter().enumerate();
        let muting = banks.filter(|(_, b)| match &b.effect {
            model::BankEffect::Mute(routes) => routes.iter().any(|r| model::same_name(r, route)),
            model::BankEffect::Phantom => false,
        });
        muting.filter_map(|(b, _)| self.banks.get(&(g, b)).copied()).collect()
    }

    fn guard(&self, g: usize, guard: Option<&model::Guard>) -> Option<Guard> {
        let guard = guard?;
        let s = SocketId::at(self.first_socket[g] + self.rig.gear[g].body.socket(&guard.socket)?);
        Some(match guard.when {
            model::Fill::Empty => Guard::Empty(s),
            model::Fill::Filled => Guard::Filled(s),
        })
    }

    fn lead(&mut self, lead: &model::Lead) -> Lead {
        let mut carries = Vec::new();
        for class in &lead.kind.carries {
            carries.extend(self.classes_of(class));
        }
        Lead {
            name: lead.name.clone(),
            ends: [0, 1].map(|i| self.connector(&lead.kind.ends[i])),
            wire: match lead.kind.wiring {
                model::Wiring::Bal | model::Wiring::Power => LeadWire::Bal,
                model::Wiring::Ts => LeadWire::Ts,
                model::Wiring::Sum => LeadWire::Sum,
                model::Wiring::Dup => LeadWire::Dup,
            },
            carries,
            // A real lead is at least a decimetre; 0 is an adapter.
            length: if lead.kind.adapter { 0 } else { floor(lead.length.value * 10.0).max(1) },
            points: count(lead.kind.points),
            owned: count(lead.owned.value),
            case: count(lead.in_case),
        }
    }

    fn gear(&self, g: usize, gear: &model::Gear) -> Gear {
        let body = &gear.body;
        let mut placements: Vec<Placement> =
            body.placements.iter().map(|p| self.placement(p, gear.placed == Placed::InCase)).collect();
        if placements.is_empty() {
            let seconds = ceil(self.rig.times.place.value);
            placements.push(Placement {
                name: String::new(),
                seconds,
                points: 0,
                hears: Vec::new(),
                sources: None,
            });
        }
        let place = match &gear.placed {
            Placed::InCase => Place::Case,
            Placed::At(name) => {
                let named = body.placements.iter().position(|p| model::same_name(&p.name, name));
                Place::At(named.unwrap_or(0))
            }
        };
        let stands = gear.at.or_else(|| match place {
            Place::At(n) => body.placements.get(n).and_then(|p| p.at),
            Place::Case => body.placements.iter().find_map(|p| p.at),
        });
        let socket = |name: &str| body.socket(name).map(|s| SocketId::at(self.first_socket[g] + s));
        Gear {
            name: gear.name.clone(),
            spot: spot(stands, self.rig.home),
            root: body.live,
            needs_power: gear.needs_power() || (body.battery.is_some() && !body.live),
            battery: body
                .battery
                .as_ref()
                .filter(|b| b.present.value)
                .map(|b| Battery { guard: self.guard(g, b.guard.as_ref()) }),
            auto: body.starts_itself && !gear.off,
            off: gear.off,
            watts: ceil(body.watts.value),
            cap: body.rating.as_ref().map(|r| floor(r.value)),
            boot: ceil(body.boot.value),
            // What has to stay loaded goes to standby before its plugs are touched.
            loud: body.loud || body.sockets.iter().any(|s| s.output().is_some_and(|o| o.must_stay_loaded)),
            points: count(body.points),
            place,
            placements,
            makes: self.makes(g, body),
            sounds: body
                .sounds
                .iter()
                .filter_map(|n| socket(n))
                .map(|socket| Sounding { socket, guard: self.guard(g, body.sounds_while.as_ref()) })
                .collect(),
        }
    }

    fn makes(&self, g: usize, body: &Body) -> Vec<crate::spec::Making> {
        body.makes
            .iter()
            .filter_map(|m| {
                Some(crate::spec::Making {
                    socket: SocketId::at(self.first_socket[g] + body.socket(&m.socket)?),
                    source: crate::ids::SourceId::at(self.rig.find_source(&m.source)?.0),
                    side: m.side.map(sockets::side),
                    guard: self.guard(g, m.guard.as_ref()),
                })
            })
            .collect()
    }

    /// What is packed has to be taken out and stood up first. It can be placed once, so there is one time for each placement.
    fn placement(&self, p: &model::Placement, packed: bool) -> Placement {
        let seconds = p.from_bag.as_ref().filter(|_| packed).unwrap_or(&p.seconds);
        let hears = self.rig.listeners.iter().enumerate().filter_map(|(i, l)| {
            p.level_at(&l.name).map(|db| (crate::ids::ListenerId::at(i), floor(db.value)))
        });
        Placement {
            name: p.name.clone(),
            seconds: ceil(seconds.value),
            points: count(p.points),
            hears: hears.collect(),
            sources: p.sources.as_ref().map(|list| {
                let ids = list.iter().filter_map(|n| self.rig.find_source(n));
                ids.map(|s| crate::ids::SourceId::at(s.0)).collect()
            }),
        }
    }
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}

fn parts(rig: &Rig) -> Vec<Part> {
    rig.parts
        .iter()
        .enumerate()
        .map(|(i, p)| Part {
            name: rig.part_label(model::PartId(i)),
            source: crate::ids::SourceId::at(p.source.0),
            listener: crate::ids::ListenerId::at(p.listener.0),
            rank: match p.rank {
                model::Rank::Must => Rank::Must,
                model::Rank::Should => Rank::Should,
                model::Rank::Nice => Rank::Nice,
                model::Rank::Never => Rank::Never,
            },
            weight: count(p.weight),
        })
        .collect()
}

fn steps(t: &model::StepTimes) -> StepTimes {
    StepTimes {
        plug: ceil(t.plug.value),
        plug_mains: ceil(t.plug_mains.value),
        plug_speaker: ceil(t.plug_speaker.value),
        unplug: ceil(t.unplug.value),
        join: ceil(t.join.value),
        level: ceil(t.level.value),
        knob: ceil(t.knob.value),
        start: ceil(t.start.value),
        item_stage: ceil(t.item_stage.value),
        item_case: ceil(t.item_case.value),
        open_case: ceil(t.open_case.value),
        quiet: ceil(t.quiet.value),
        place: ceil(t.place.value),
    }
}

fn spot(at: Option<Spot>, home: Spot) -> crate::spec::Spot {
    let at = at.unwrap_or(home);
    crate::spec::Spot { x: nearest(at.x * 10.0), y: nearest(at.y * 10.0) }
}

/// Figures outside what the problem can hold are cut to it here; `Problem::new` then refuses them by name.
fn cut(found: Result<i32, physics::OutOfRange>, value: f64) -> i32 {
    found.unwrap_or(if value > 0.0 { i32::MAX } else { i32::MIN })
}

pub(crate) fn ceil(value: f64) -> i32 {
    cut(physics::whole::ceil_i32(value), value)
}

pub(crate) fn floor(value: f64) -> i32 {
    cut(physics::whole::floor_i32(value), value)
}

fn nearest(value: f64) -> i32 {
    cut(physics::whole::round_half_up(value), value)
}

fn count(n: u32) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX)
}

/// Two levels rounded inward; a single one goes to the nearest.
pub(crate) fn inward(lo: f64, hi: f64) -> Levels {
    let (a, b) = (ceil(lo), floor(hi));
    if a <= b { Levels { lo: a, hi: b } } else { Levels { lo: nearest(lo), hi: nearest(lo) } }
}

impl Named {
    /// The losses and mends, for the judge.
    pub fn fault(&self) -> &Fault {
        &self.fault
    }
}
