//! What no longer works, and what could mend it.

use crate::ids::{FactId, GearId, LeadId, LinkId, RouteId, SocketId, WearId};
use crate::spec::{Passive, Spec};

/// One lost function.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Loss {
    /// All of a piece.
    Gear(GearId),
    /// Its loudspeaker; what passes through it still passes.
    Sound(GearId),
    /// What it makes; what passes through it still passes.
    Make(GearId),
    /// Its supply: it runs only on its battery.
    Supply(GearId),
    /// One way through.
    Route(RouteId),
    /// One socket.
    Socket(SocketId),
    /// One piece of one link of the normal patch, counted from the out-socket.
    Lead(LinkId, usize),
    /// Spare pieces of a type that should lie on stage.
    SpareOnStage(LeadId, i32),
    /// Spare pieces of a type that should be in the bag.
    SpareInCase(LeadId, i32),
}

/// An act that gives back what one cause took away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mend {
    /// What it is called.
    pub name: String,
    /// Which entries of [`Fault::lost`] it gives back.
    pub gives: Vec<usize>,
    /// The piece the hands are at.
    pub at: GearId,
    /// Seconds, walking and fetching apart.
    pub seconds: i32,
    /// So many of this are used up.
    pub wear: Option<(WearId, i32)>,
}

/// Everything that is lost at once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fault {
    /// The losses; one may stand twice when two causes take it.
    pub lost: Vec<Loss>,
    /// What could be mended on the spot.
    pub mends: Vec<Mend>,
    /// What nobody has checked and is taken not to hold.
    pub doubted: Vec<FactId>,
}

impl Fault {
    /// A fault with these losses and nothing to mend.
    pub fn of(lost: impl IntoIterator<Item = Loss>) -> Self {
        Fault { lost: lost.into_iter().collect(), ..Fault::default() }
    }

    /// Both at once.
    #[must_use]
    pub fn and(&self, other: &Fault) -> Fault {
        let mut both = self.clone();
        let shift = both.lost.len();
        both.lost.extend(&other.lost);
        both.mends.extend(other.mends.iter().cloned().map(|mut m| {
            for i in &mut m.gives {
                *i += shift;
            }
            m
        }));
        both
    }

    /// The same, with these facts taken not to hold.
    #[must_use]
    pub fn doubting(&self, facts: impl IntoIterator<Item = FactId>) -> Fault {
        Fault { doubted: facts.into_iter().collect(), ..self.clone() }
    }

    /// The same, with no fact taken to hold: what is heard then is heard for certain.
    #[must_use]
    pub fn for_certain(&self, spec: &Spec) -> Fault {
        self.relying(spec, &[])
    }

    /// The same, with no fact taken to hold but these, less those that are doubted already.
    #[must_use]
    pub fn relying(&self, spec: &Spec, on: &[FactId]) -> Fault {
        let doubted = |f: &FactId| self.doubted.contains(f) || !on.contains(f);
        self.doubting((0..spec.facts.len()).map(FactId::at).filter(doubted))
    }
}

/// The losses spread out, so that each question is one look-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Losses {
    gear: Vec<bool>,
    sound: Vec<bool>,
    make: Vec<bool>,
    supply: Vec<bool>,
    route: Vec<bool>,
    passive: Vec<bool>,
    socket: Vec<bool>,
    /// One bit a piece of each normal link.
    pieces: Vec<u8>,
    spare_stage: Vec<i32>,
    spare_case: Vec<i32>,
}

impl Losses {
    /// Nothing lost: what safety is judged with, since what is dead may come back.
    pub fn none(spec: &Spec) -> Self {
        Losses {
            gear: vec![false; spec.gear.len()],
            sound: vec![false; spec.gear.len()],
            make: vec![false; spec.gear.len()],
            supply: vec![false; spec.gear.len()],
            route: vec![false; spec.routes.len()],
            passive: spec.routes.iter().map(|r| r.passive != Passive::No).collect(),
            socket: vec![false; spec.sockets.len()],
            pieces: vec![0; spec.patch.len()],
            spare_stage: vec![0; spec.leads.len()],
            spare_case: vec![0; spec.leads.len()],
        }
    }

    /// A fault, less what these mends give back.
    pub fn of(spec: &Spec, fault: &Fault, mended: &[usize]) -> Self {
        let mut it = Losses::none(spec);
        for (i, route) in spec.routes.iter().enumerate() {
            it.route[i] = route.only_if.is_some_and(|f| fault.doubted.contains(&f));
            if let Passive::If(f) = route.passive {
                it.passive[i] = !fault.doubted.contains(&f);
            }
        }
        for (i, loss) in fault.lost.iter().enumerate() {
            let given_back =
                mended.iter().any(|m| fault.mends.get(*m).is_some_and(|mend| mend.gives.contains(&i)));
            if given_back {
                continue;
            }
            match *loss {
                Loss::Gear(g) => it.gear[g.ix()] = true,
                Loss::Sound(g) => it.sound[g.ix()] = true,
                Loss::Make(g) => it.make[g.ix()] = true,
                Loss::Supply(g) => it.supply[g.ix()] = true,
                Loss::Route(r) => it.route[r.ix()] = true,
                Loss::Socket(s) => it.socket[s.ix()] = true,
                Loss::Lead(l, piece) => it.pieces[l.ix()] |= 1 << piece.min(7),
                Loss::SpareOnStage(t, n) => it.spare_stage[t.ix()] = it.spare_stage[t.ix()].saturating_add(n),
                Loss::SpareInCase(t, n) => it.spare_case[t.ix()] = it.spare_case[t.ix()].saturating_add(n),
            }
        }
        it
    }

    /// All of the piece.
    pub fn gear(&self, g: GearId) -> bool {
        self.gear[g.ix()]
    }

    /// Its loudspeaker.
    pub fn sound(&self, g: GearId) -> bool {
        self.sound[g.ix()]
    }

    /// What it makes.
    pub fn make(&self, g: GearId) -> bool {
        self.make[g.ix()]
    }

    /// Its supply.
    pub fn supply(&self, g: GearId) -> bool {
        self.supply[g.ix()]
    }

    /// The route.
    pub fn route(&self, r: RouteId) -> bool {
        self.route[r.ix()]
    }

    /// Does a route pass without power, by what is taken to hold?
    pub fn is_passive(&self, r: RouteId) -> bool {
        self.passive[r.ix()]
    }

    /// The socket alone, or with its whole piece.
    pub fn socket(&self, spec: &Spec, s: SocketId) -> bool {
        self.socket[s.ix()] || self.gear[spec.gear_of(s).ix()]
    }

    /// The `piece`-th piece of a normal link.
    pub fn piece(&self, l: LinkId, piece: usize) -> bool {
        self.pieces[l.ix()] & (1 << piece.min(7)) != 0
    }

    /// Any piece of a normal link.
    pub fn link(&self, l: LinkId) -> bool {
        self.pieces[l.ix()] != 0
    }

    /// Spare pieces left on stage and in the bag.
    pub fn spares(&self, spec: &Spec, t: LeadId, on_stage: i32) -> (i32, i32) {
        let stage = on_stage.saturating_sub(self.spare_stage[t.ix()]).max(0);
        let case = spec.leads[t.ix()].case.saturating_sub(self.spare_case[t.ix()]).max(0);
        (stage, case)
    }
}
