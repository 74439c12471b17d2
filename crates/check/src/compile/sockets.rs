//! Sockets, classes and connectors of a rig, in whole numbers.

use model::{Gain, PhantomAtInput, PhantomAtOutput, Side as ModelSide, Wires};

use super::{Book, CREST, ceil, floor, inward};
use crate::ids::{ClassId, GearId};
use crate::spec::{
    Class, Connector, Flow, Levels, PhantomIn, PhantomOut, PlugTime, Side, Socket, SocketWire,
};

/// Levels of an out-socket that only passes on what comes in.
const WIDE: Levels = Levels { lo: -90, hi: 30 };

impl Book<'_> {
    pub(super) fn sockets(&mut self) -> Vec<Socket> {
        let rig = self.rig;
        let mut all = Vec::new();
        for (g, gear) in rig.gear.iter().enumerate() {
            for socket in &gear.body.sockets {
                let connectors = socket.connectors.iter().map(|c| self.connector(c)).collect();
                let flow = match &socket.side {
                    ModelSide::Out(out) => self.out(gear, &socket.name, out),
                    ModelSide::In(input) => self.input(g, input),
                };
                all.push(Socket {
                    name: socket.name.clone(),
                    gear: GearId::at(g),
                    flow,
                    connectors,
                    wire: match socket.wires {
                        Wires::Ts => SocketWire::Ts,
                        Wires::Bal => SocketWire::Bal,
                        Wires::Stereo => SocketWire::Stereo,
                    },
                    tail: socket.tail.as_ref().map_or(0, |t| floor(t.value * 10.0)),
                    rise: ceil(gear.rise(socket) * 10.0),
                });
            }
        }
        all
    }

    fn out(&mut self, gear: &model::Gear, name: &str, out: &model::Output) -> Flow {
        let class = self.class(&out.class);
        let made = gear.body.makes.iter().any(|m| model::same_name(&m.socket, name));
        let into = |r: &&model::Route| r.to.iter().any(|t| model::same_name(t, name));
        let passes_on = gear.body.routes.iter().filter(into).any(|r| r.gain != Gain::Levelled);
        let own = out.level.as_ref().map(|l| {
            let peak = l.peak.value - CREST;
            let down = l.down_to.as_ref().map_or(0.0, |d| (l.nominal.value - d.value).max(0.0));
            (peak - down, peak)
        });
        let levels = match own {
            Some((lo, hi)) if made || !passes_on => inward(lo, hi),
            // What leaves follows what comes in, up to what this socket can give.
            Some((_, hi)) => Levels { lo: WIDE.lo, hi: floor(hi).max(WIDE.lo) },
            None if self.classes[class.ix()].supply => Levels { lo: 0, hi: 0 },
            None => WIDE,
        };
        let phantom = match out.phantom {
            PhantomAtOutput::Fine => PhantomOut::Fine,
            PhantomAtOutput::Needs { .. } => PhantomOut::Needs,
            PhantomAtOutput::Harmed => PhantomOut::Harmed,
        };
        Flow::Out { class, levels, phantom, loaded: out.must_stay_loaded }
    }

    fn input(&mut self, g: usize, input: &model::Input) -> Flow {
        let mut accepts: Vec<(ClassId, Levels)> = Vec::new();
        for a in &input.accepts {
            for class in self.classes_of(&a.class) {
                let window = if a.class.is_supply() {
                    Levels { lo: 0, hi: 0 }
                } else {
                    inward(a.least.value, a.most.value - CREST)
                };
                match accepts.iter_mut().find(|(c, _)| *c == class) {
                    // The two sides of a combined socket: `super::super::link` tells which one a plug is in.
                    Some((_, w)) => *w = Levels { lo: w.lo.min(window.lo), hi: w.hi.max(window.hi) },
                    None => accepts.push((class, window)),
                }
            }
        }
        let phantom = match &input.phantom {
            PhantomAtInput::No => PhantomIn::No,
            PhantomAtInput::Always => PhantomIn::Always,
            PhantomAtInput::Switched(name) => {
                let banks = &self.rig.gear[g].body.banks;
                let bank = banks.iter().position(|b| model::same_name(&b.name, name));
                match bank.and_then(|b| self.banks.get(&(g, b))) {
                    Some(k) => PhantomIn::Bank(*k),
                    None => PhantomIn::Switchable,
                }
            }
        };
        Flow::In { accepts, phantom, gain: input.set_level, guard: self.guard(g, input.guard.as_ref()) }
    }

    pub(super) fn class(&mut self, class: &model::Class) -> ClassId {
        if let Some(i) = self.class_of.get(class) {
            return ClassId::at(*i);
        }
        self.classes.push(Class {
            name: class.to_string(),
            supply: class.is_supply(),
            plug: match class {
                model::Class::Mains => PlugTime::Mains,
                model::Class::Speaker => PlugTime::Speaker,
                _ => PlugTime::Light,
            },
            mic: *class == model::Class::Mic,
        });
        self.class_of.insert(class.clone(), self.classes.len() - 1);
        ClassId::at(self.classes.len() - 1)
    }

    /// What a socket or lead for this class takes: one for line takes a headphone output too.
    pub(super) fn classes_of(&mut self, class: &model::Class) -> Vec<ClassId> {
        let own = self.class(class);
        if *class == model::Class::Line { vec![own, self.class(&model::Class::Phones)] } else { vec![own] }
    }

    pub(super) fn connector(&mut self, c: &model::Connector) -> Connector {
        let form = match &c.form {
            model::Form::Own(name) => format!("own {name}"),
            other => format!("{other:?}"),
        };
        let at = self.forms.iter().position(|f| *f == form).unwrap_or_else(|| {
            self.forms.push(form);
            self.forms.len() - 1
        });
        Connector { form: u16::try_from(at).unwrap_or(u16::MAX), plug: c.half == model::Half::Plug }
    }
}

/// Gain range of a route, dB; `None` where it brings any level to its own range.
pub(super) fn gain(gain: &Gain) -> Option<Levels> {
    match gain {
        Gain::Levelled => None,
        Gain::Copy => Some(Levels { lo: 0, hi: 0 }),
        Gain::Db(least, most) => Some(inward(least.value, most.value)),
        Gain::Turns(n) => {
            let ratio = physics::TurnsRatio::new(n.value).ok()?;
            let db = physics::transformer::level_change(ratio).get();
            Some(inward(db, db))
        }
    }
}

pub(super) fn side(side: model::Stereo) -> Side {
    match side {
        model::Stereo::Left => Side::Left,
        model::Stereo::Right => Side::Right,
    }
}
