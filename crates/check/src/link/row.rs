//! One link as a check sees it: two sockets, what is between, and which plug arrives.

use model::{Accepts, Class, Figure, Form, Gear, Input, Lead, Output, Rig, Socket, SocketRef, Wires, Wiring};

use crate::ids::{LeadId, SocketId};
use crate::pairs;
use crate::remark::FigureNote;
use crate::spec::{Levels, Spec};
use crate::verdict::Verdict;

/// An out-socket, pieces in a row, an in-socket.
#[derive(Clone, Debug)]
pub struct Row<'a> {
    /// The rig.
    pub rig: &'a Rig,
    /// The piece it starts at.
    pub giver: &'a Gear,
    /// Its out-socket.
    pub from: &'a Socket,
    /// What that gives.
    pub out: &'a Output,
    /// Leads and adapters in order.
    pub via: Vec<&'a Lead>,
    /// The piece it ends at.
    pub taker: &'a Gear,
    /// Its in-socket.
    pub to: &'a Socket,
    /// What that takes.
    pub input: &'a Input,
    /// `VOCAL MIC OUT`.
    pub from_label: String,
    /// `MIXER 1`.
    pub to_label: String,
    /// Forms of the plug that may arrive; none when something does not fit.
    pub arrives: Vec<Form>,
    /// The first joint that does not fit: 0 at the out-socket, one more behind each piece.
    pub misfit: Option<usize>,
    /// Level that leaves, dBu, peaks told without their crest; what only passes on is wide.
    pub level: Option<Levels>,
    /// Do the sides of a stereo signal come through as the input wants them?
    pub sides_fit: bool,
    /// Decimetres left for the floor, and the squared distance in square decimetres.
    pub reach: (i64, i64),
}

impl<'a> Row<'a> {
    /// The row of two sockets of a compiled rig. `None` where they are no out-socket and in-socket of this rig.
    pub fn new(
        rig: &'a Rig,
        spec: &Spec,
        ends: [(SocketId, SocketRef); 2],
        via: &[LeadId],
    ) -> Option<Row<'a>> {
        let [(from, from_ref), (to, to_ref)] = ends;
        let (a, b) = (rig.socket(from_ref)?, rig.socket(to_ref)?);
        let pieces: Vec<&Lead> = via.iter().map(|t| rig.leads.get(t.ix())).collect::<Option<_>>()?;
        let (arrives, misfit) = plug_along(a, &pieces, b);
        let level = match &spec.socket(from).flow {
            crate::spec::Flow::Out { levels, .. } => Some(*levels),
            crate::spec::Flow::In { .. } => None,
        };
        Some(Row {
            rig,
            giver: rig.piece(from_ref.gear)?,
            from: a,
            out: a.output()?,
            via: pieces,
            taker: rig.piece(to_ref.gear)?,
            to: b,
            input: b.input()?,
            from_label: rig.label(from_ref),
            to_label: rig.label(to_ref),
            arrives,
            misfit,
            level,
            sides_fit: pairs::sides_fit(
                a.wires == Wires::Stereo,
                &via.iter().map(|t| spec.leads[t.ix()].wire).collect::<Vec<_>>(),
                b.wires == Wires::Stereo,
            ),
            reach: pairs::reach(spec, from, via, to),
        })
    }

    /// Every window of the in-socket for this class, whatever the plug.
    pub fn windows(&self) -> impl Iterator<Item = &'a Accepts> + '_ {
        self.input.accepts.iter().filter(|a| suits(&a.class, &self.out.class))
    }

    /// The windows for this class on the side where the plug arrives.
    pub fn open_windows(&self) -> impl Iterator<Item = &'a Accepts> + '_ {
        self.windows().filter(|a| a.only_on.as_ref().is_none_or(|form| self.arrives.contains(form)))
    }

    /// The load that the plug meets.
    pub fn load(&self) -> Option<&'a Figure<f64>> {
        self.open_windows().find_map(|a| a.load.as_ref())
    }

    /// Metres of lead between the two sockets, fixed cables included.
    pub fn metres(&self) -> f64 {
        let tails = [self.from, self.to].iter().filter_map(|s| s.tail.as_ref()).map(|t| t.value).sum::<f64>();
        self.via.iter().map(|l| l.length.value).sum::<f64>() + tails
    }

    /// Lead capacitance, farads: each piece's own figure, else the common one.
    pub fn capacitance(&self) -> f64 {
        let common = physics::corner::SCREENED_LEAD_PER_METRE.get();
        self.via
            .iter()
            .map(|l| l.length.value * l.kind.pf_per_metre.as_ref().map_or(common, |p| p.value * 1e-12))
            .sum()
    }

    /// Does sound (or data) leave, rather than power?
    pub fn is_sound(&self) -> bool {
        !self.out.class.is_supply()
    }

    /// Does the in-socket take this class at all, by some plug?
    pub fn is_taken(&self) -> bool {
        self.windows().next().is_some()
    }

    /// Does the in-socket take another class that passes this test?
    pub fn takes_any(&self, test: fn(&Class) -> bool) -> bool {
        self.input.accepts.iter().any(|a| test(&a.class))
    }

    /// Do three conductors run from one balanced socket to another?
    pub fn is_balanced(&self) -> bool {
        self.from.wires == Wires::Bal
            && self.to.wires == Wires::Bal
            && self.via.iter().all(|l| l.kind.wiring == Wiring::Bal)
    }

    /// Is any piece wired so?
    pub fn has(&self, wiring: Wiring) -> bool {
        self.via.iter().any(|l| l.kind.wiring == wiring)
    }

    /// `XLR 6 m and XLR to jack adapter`; nothing between: `fixed cable`.
    pub fn pieces(&self) -> String {
        match self.via.as_slice() {
            [] => "fixed cable".to_owned(),
            all => all.iter().map(|l| l.name.as_str()).collect::<Vec<_>>().join(" and "),
        }
    }

    /// What was found, told with both ends.
    pub fn finds(&self, verdict: Verdict, points: i32, what: &str) -> Found {
        Found {
            verdict,
            points,
            message: format!("{} to {}: {what}", self.from_label, self.to_label),
            help: None,
            figures: Vec::new(),
        }
    }
}

/// What a check says of a link.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// How bad.
    pub verdict: Verdict,
    /// Points of sound difference, while it can be used at all.
    pub points: i32,
    /// With both ends by their labels. No full stop.
    pub message: String,
    /// What to do instead.
    pub help: Option<String>,
    /// The figures it rests on.
    pub figures: Vec<FigureNote>,
}

impl Found {
    /// With what to do instead.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With a figure it rests on.
    #[must_use]
    pub fn figure(mut self, what: &str, figure: &Figure<f64>, unit: &str) -> Self {
        self.figures.push(FigureNote::of(what, figure, unit));
        self
    }
}

/// Does a socket or lead for `takes` suit `given`? One for line takes a headphone output too.
pub fn suits(takes: &Class, given: &Class) -> bool {
    takes == given || (*takes == Class::Line && *given == Class::Phones)
}

/// A class in words: `microphone level`.
pub fn in_words(class: &Class) -> String {
    match class {
        Class::Mic => "microphone level".to_owned(),
        Class::Inst => "instrument level".to_owned(),
        Class::Line => "line level".to_owned(),
        Class::Phones => "headphone level".to_owned(),
        Class::Speaker => "loudspeaker power".to_owned(),
        Class::Mains => "mains".to_owned(),
        Class::Dc { decivolts, centre } => {
            let centre = match centre {
                model::Polarity::Negative => "centre negative",
                model::Polarity::Positive => "centre positive",
            };
            match (decivolts / 10, decivolts % 10) {
                (volts, 0) => format!("{volts} V {centre}"),
                (volts, tenth) => format!("{volts}.{tenth} V {centre}"),
            }
        }
        Class::Usb => "5 V USB power".to_owned(),
        Class::Own(name) => format!("the {name}'s own supply"),
        Class::Data(name) => format!("{name} data"),
    }
}

/// A form of connector in words: `jack`.
pub fn form_in_words(form: &Form) -> &str {
    match form {
        Form::Xlr => "XLR",
        Form::Jack => "jack",
        Form::Mini => "mini jack",
        Form::Phono => "phono",
        Form::Twist => "speaker twist",
        Form::Wall => "wall plug",
        Form::Iec13 => "C13",
        Form::Iec7 => "C7",
        Form::Barrel21 => "2.1 mm barrel",
        Form::Barrel25 => "2.5 mm barrel",
        Form::UsbA => "USB-A",
        Form::UsbB => "USB-B",
        Form::UsbC => "USB-C",
        Form::Din5 => "DIN",
        Form::Rj45 => "network plug",
        Form::Own(name) => name,
    }
}

/// Connectors in words: `XLR-F or jack socket`.
pub fn ends_in_words<'a>(all: impl IntoIterator<Item = &'a model::Connector>) -> String {
    let one = |c: &model::Connector| {
        if c.form == Form::Xlr {
            return if c.half == model::Half::Plug { "XLR-M" } else { "XLR-F" }.to_owned();
        }
        let half = match c.half {
            model::Half::Plug => "plug",
            model::Half::Sock => "socket",
        };
        let form = form_in_words(&c.form);
        let form = form.strip_suffix(" plug").unwrap_or(form);
        format!("{form} {half}")
    };
    let mut words: Vec<String> = all.into_iter().map(one).collect();
    words.dedup();
    words.join(" or ")
}

/// Walks the plugs from socket to socket, each piece either way round: which forms may arrive, and the first joint that
/// does not fit.
fn plug_along(from: &Socket, via: &[&Lead], to: &Socket) -> (Vec<Form>, Option<usize>) {
    let mut open: Vec<&model::Connector> = from.connectors.iter().collect();
    for (i, piece) in via.iter().enumerate() {
        let [one, other] = &piece.kind.ends;
        let mut next = Vec::new();
        for (near, far) in [(one, other), (other, one)] {
            if open.iter().any(|o| o.mates_with(near)) && !next.contains(&far) {
                next.push(far);
            }
        }
        if next.is_empty() {
            return (Vec::new(), Some(i));
        }
        open = next;
    }
    let cable = !via.is_empty() || from.tail.is_some() || to.tail.is_some();
    let mut forms: Vec<Form> = open
        .iter()
        .filter(|o| cable && to.connectors.iter().any(|c| c.mates_with(o)))
        .map(|o| o.form.clone())
        .collect();
    forms.dedup();
    let misfit = forms.is_empty().then_some(via.len());
    (forms, misfit)
}
