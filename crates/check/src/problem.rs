//! A rig compiled once: the integer rig with every table that judging and searching need.

use thiserror::Error;

use crate::fault::{Fault, Losses};
use crate::ids::{GearId, KnobId, LinkId, PartId, RouteId, SocketId};
use crate::judge::Judge;
use crate::pairs::{LinkCheck, NoMore, Pairs};
use crate::plan::{End, Plan};
use crate::rules::Rules;
use crate::spec::{Flow, Place, Rank, Spec};

/// Why an integer rig cannot be judged at all.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Nonsense {
    /// More than 65 000 of something.
    #[error("{what}: {found} is more than this program can count (65000)")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many.
        found: usize,
    },
    /// A figure outside what sums can hold.
    #[error("{what} of {whose}: {found} is outside -100000..100000")]
    TooFar {
        /// Which figure.
        what: &'static str,
        /// Of which thing.
        whose: String,
        /// The figure.
        found: i32,
    },
    /// Two plugs of the normal patch in one socket.
    #[error("{gear} {socket} has two plugs in it")]
    TwoPlugs {
        /// The piece.
        gear: String,
        /// The socket.
        socket: String,
    },
    /// A link of the normal patch that runs the wrong way.
    #[error("the link from {gear} {socket} does not run from an out-socket to an in-socket")]
    WrongWay {
        /// The piece.
        gear: String,
        /// The socket it starts at.
        socket: String,
    },
}

/// A rig, ready to be judged and searched.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The integer rig.
    pub spec: Spec,
    /// Which rules are on: all, but for tests.
    pub rules: Rules,
    /// What may be joined.
    pub pairs: Pairs,
    /// The normal link at each socket.
    pub normal_at: Vec<Option<LinkId>>,
    /// Does this end of a normal link exist as a plug that can be pulled?
    pub end_exists: Vec<[bool; 2]>,
    /// Does one pull let go of both sockets of a normal link? A fixed cable parts from what is joined to it for nothing.
    pub one_pull: Vec<bool>,
    /// Spare pieces of each lead type on stage.
    pub on_stage: Vec<i32>,
    /// Seconds to walk to each piece.
    pub go: Vec<i32>,
    /// The routes that start at each in-socket.
    pub routes_from: Vec<Vec<RouteId>>,
    /// The in-sockets of each piece that take a supply.
    pub supply_ins: Vec<Vec<SocketId>>,
    /// The out-sockets of each piece that give a supply.
    pub supply_outs: Vec<Vec<SocketId>>,
    /// Which in-sockets drive a loudspeaker.
    pub sounding: Vec<bool>,
    /// Pieces that work in the normal patch.
    pub live: Vec<bool>,
    /// Pieces that have their power over normal links from an outlet on, none of them from a battery.
    pub unbroken: Vec<bool>,
    /// Parts that the normal patch carries: the only ones that count.
    pub counted: Vec<PartId>,
    /// The pieces that carry each part in the normal patch.
    pub speakers: Vec<Vec<GearId>>,
}

impl Problem {
    /// Compiles an integer rig whose physics is already in its figures.
    ///
    /// # Errors
    /// [`Nonsense`] where the rig cannot be judged at all.
    pub fn new(spec: Spec) -> Result<Self, Nonsense> {
        Problem::with(spec, &NoMore, Rules::ALL)
    }

    /// Compiles an integer rig, asking `more` about every link that the wiring allows.
    ///
    /// # Errors
    /// [`Nonsense`] where the rig cannot be judged at all.
    pub fn with(spec: Spec, more: &dyn LinkCheck, rules: Rules) -> Result<Self, Nonsense> {
        within_count(&spec)?;
        within_range(&spec)?;
        let mut normal_at = vec![None; spec.sockets.len()];
        for (i, link) in spec.patch.iter().enumerate() {
            let runs = matches!(spec.socket(link.from).flow, Flow::Out { .. })
                && matches!(spec.socket(link.to).flow, Flow::In { .. });
            let name =
                |s: SocketId| (spec.gear[spec.gear_of(s).ix()].name.clone(), spec.socket(s).name.clone());
            if !runs {
                let (gear, socket) = name(link.from);
                return Err(Nonsense::WrongWay { gear, socket });
            }
            for s in [link.from, link.to] {
                if normal_at[s.ix()].replace(LinkId::at(i)).is_some() {
                    let (gear, socket) = name(s);
                    return Err(Nonsense::TwoPlugs { gear, socket });
                }
            }
        }
        let pairs = Pairs::list(&spec, &normal_at, more, rules);
        let gear = spec.gear.len();
        let supply = |class| spec.classes[crate::ids::ClassId::ix(class)].supply;
        let mut supply_ins = vec![Vec::new(); gear];
        let mut supply_outs = vec![Vec::new(); gear];
        for s in (0..spec.sockets.len()).map(SocketId::at) {
            let g = spec.gear_of(s);
            match &spec.socket(s).flow {
                Flow::In { accepts, .. } if accepts.iter().any(|(c, _)| supply(*c)) => {
                    supply_ins[g.ix()].push(s)
                }
                Flow::Out { class, .. } if supply(*class) => supply_outs[g.ix()].push(s),
                Flow::In { .. } | Flow::Out { .. } => {}
            }
        }
        let mut routes_from = vec![Vec::new(); spec.sockets.len()];
        for (i, r) in spec.routes.iter().enumerate() {
            routes_from[r.from.ix()].push(RouteId::at(i));
        }
        let mut sounding = vec![false; spec.sockets.len()];
        for s in spec.gear.iter().flat_map(|g| &g.sounds) {
            sounding[s.socket.ix()] = true;
        }
        let mut problem = Problem {
            rules,
            pairs,
            normal_at,
            one_pull: spec.patch.iter().map(|l| one_pull(&spec, l)).collect(),
            end_exists: spec.patch.iter().map(|l| ends_of(&spec, l)).collect(),
            on_stage: (0..spec.leads.len()).map(|t| spec.on_stage(crate::ids::LeadId::at(t))).collect(),
            go: (0..gear).map(|g| spec.go_seconds(GearId::at(g))).collect(),
            routes_from,
            supply_ins,
            supply_outs,
            sounding,
            live: spec.gear.iter().map(|g| !g.off).collect(),
            unbroken: vec![false; gear],
            counted: Vec::new(),
            speakers: vec![Vec::new(); spec.parts.len()],
            spec,
        };
        problem.measure_normal_patch();
        Ok(problem)
    }

    /// What works and what is heard with everything as plugged: the yardstick for every fault.
    fn measure_normal_patch(&mut self) {
        let no_fault = Fault::default();
        let none = Losses::none(&self.spec);
        let mut judge = Judge::new(self, &no_fault);
        judge.lay_out(&Plan::default());
        let live = judge.fed_everywhere(&none);
        self.live = live;
        let mut judge = Judge::new(self, &no_fault);
        judge.lay_out(&Plan::default());
        judge.run(&none);
        let unbroken = judge.unbroken();
        let mut counted = Vec::new();
        let mut speakers = vec![Vec::new(); self.spec.parts.len()];
        for (i, part) in self.spec.parts.iter().enumerate() {
            let at = judge.speakers_of(PartId::at(i));
            if part.rank != Rank::Never && !at.is_empty() {
                counted.push(PartId::at(i));
                speakers[i] = at;
            }
        }
        self.unbroken = unbroken;
        self.counted = counted;
        self.speakers = speakers;
    }

    /// A part.
    pub fn part(&self, p: PartId) -> &crate::spec::Part {
        &self.spec.parts[p.ix()]
    }

    /// Is the piece packed away in the normal patch?
    pub fn packed(&self, g: GearId) -> bool {
        self.spec.gear[g.ix()].place == Place::Case
    }

    /// The piece that goes to standby before either plug of a normal link comes out: its output has to stay loaded.
    pub fn unloads(&self, l: LinkId) -> Option<GearId> {
        let s = self.spec.patch[l.ix()].from;
        let loaded = matches!(self.spec.socket(s).flow, Flow::Out { loaded: true, .. });
        loaded.then(|| self.spec.gear_of(s))
    }

    /// The normal link that a kept link at this end of a pair would take over.
    pub fn kept_link(&self, pair: usize, end: End) -> Option<LinkId> {
        let p = &self.pairs.pairs[pair];
        self.normal_at[match end {
            End::From => p.from.ix(),
            End::To => p.to.ix(),
        }]
    }

    /// How many pieces of an old link stay when a new one is kept at `end`: the longest run of living pieces of the same
    /// types, counted from that end.
    pub fn kept_pieces(&self, losses: &Losses, link: LinkId, end: End, via: &[crate::ids::LeadId]) -> usize {
        let old = &self.spec.patch[link.ix()].via;
        let n = old.len().min(via.len());
        (0..n)
            .take_while(|i| {
                let (o, v) = match end {
                    End::From => (*i, *i),
                    End::To => (old.len() - 1 - i, via.len() - 1 - i),
                };
                old[o] == via[v] && !losses.piece(link, o)
            })
            .count()
    }

    /// Does a new end at this socket cost anything? A fixed cable's own end stays in, unless a piece is joined to it.
    pub fn end_charged(&self, s: SocketId, pieces: usize) -> bool {
        !(self.spec.tail_kept && self.spec.socket(s).tail > 0 && pieces == 0)
    }

    /// The knob of a phantom bank that this in-socket hangs on.
    pub fn bank_of(&self, s: SocketId) -> Option<KnobId> {
        match self.spec.socket(s).flow {
            Flow::In { phantom: crate::spec::PhantomIn::Bank(k), .. } => Some(k),
            Flow::In { .. } | Flow::Out { .. } => None,
        }
    }
}

fn one_pull(spec: &Spec, link: &crate::spec::Link) -> bool {
    spec.tail_kept && [link.from, link.to].iter().any(|s| spec.socket(*s).tail > 0)
}

fn ends_of(spec: &Spec, link: &crate::spec::Link) -> [bool; 2] {
    if !spec.tail_kept {
        return [true; 2];
    }
    let tail = |s: SocketId| spec.socket(s).tail > 0;
    match (tail(link.from), tail(link.to)) {
        (false, false) => [true; 2],
        (true, false) => [false, true],
        (false, true) => [true, false],
        (true, true) => [!link.via.is_empty(); 2],
    }
}

fn within_count(spec: &Spec) -> Result<(), Nonsense> {
    let counts = [
        ("gear", spec.gear.len()),
        ("sockets", spec.sockets.len()),
        ("routes", spec.routes.len()),
        ("leads", spec.leads.len()),
        ("links", spec.patch.len()),
        ("parts", spec.parts.len()),
        ("knobs", spec.knobs.len()),
        ("facts", spec.facts.len()),
    ];
    match counts.into_iter().find(|(_, n)| *n > 65_000) {
        Some((what, found)) => Err(Nonsense::TooMany { what, found }),
        None => Ok(()),
    }
}

/// Sums of a few hundred figures below 100 000 fit an `i32`.
fn within_range(spec: &Spec) -> Result<(), Nonsense> {
    let check = |what, whose: &str, found: i32| {
        if (-100_000..=100_000).contains(&found) {
            Ok(())
        } else {
            Err(Nonsense::TooFar { what, whose: whose.to_owned(), found })
        }
    };
    for g in &spec.gear {
        for found in [g.spot.x, g.spot.y] {
            check("position", &g.name, found)?;
        }
        check("watts", &g.name, g.watts)?;
        check("start", &g.name, g.boot)?;
        check("points", &g.name, g.points)?;
        for p in &g.placements {
            check("seconds", &g.name, p.seconds)?;
            check("points", &g.name, p.points)?;
        }
    }
    for s in &spec.sockets {
        let whose = &spec.gear[s.gear.ix()].name;
        check("cable", whose, s.tail)?;
        check("height", whose, s.rise)?;
        if let Flow::Out { levels, .. } = &s.flow {
            check("level", whose, levels.lo)?;
            check("level", whose, levels.hi)?;
        }
    }
    for t in &spec.leads {
        check("length", &t.name, t.length)?;
        check("count", &t.name, t.owned)?;
        check("count", &t.name, t.case)?;
        check("points", &t.name, t.points)?;
    }
    for p in &spec.parts {
        check("weight", &p.name, p.weight)?;
    }
    Ok(())
}
