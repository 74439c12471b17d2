//! What the hands do.

use crate::ids::{GearId, KnobId, LinkId, SocketId};

/// One end of a normal link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// At the out-socket.
    From,
    /// At the in-socket.
    To,
}

impl End {
    /// The other one.
    #[must_use]
    pub fn other(self) -> End {
        match self {
            End::From => End::To,
            End::To => End::From,
        }
    }

    /// 0 at the out-socket, 1 at the in-socket.
    pub fn ix(self) -> usize {
        match self {
            End::From => 0,
            End::To => 1,
        }
    }
}

/// A new link: from, to, through which chain, and what of an old link it keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NewLink {
    /// Index into [`Pairs::pairs`](crate::pairs::Pairs): which two sockets.
    pub pair: usize,
    /// Index into [`Pairs::chains`](crate::pairs::Pairs): through which pieces.
    pub chain: usize,
    /// The end of the old link whose plug stays in; `None` for a fresh link.
    pub kept: Option<End>,
}

/// A set of acts. Its order does not matter here: the steps are put in order later.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Plan {
    /// Plugs taken out.
    pub pulls: Vec<(LinkId, End)>,
    /// Links made.
    pub new: Vec<NewLink>,
    /// Pieces placed, each with the number of its placement.
    pub places: Vec<(GearId, usize)>,
    /// Knobs turned over.
    pub knobs: Vec<KnobId>,
    /// Pieces switched on.
    pub starts: Vec<GearId>,
    /// Mends done: indices into [`Fault::mends`](crate::fault::Fault).
    pub mends: Vec<usize>,
}

/// One act, in the order in which a plan is written down to break ties ("order of the file").
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Act {
    /// A plug taken out.
    Pull(LinkId, End),
    /// A link made.
    Link(SocketId, SocketId, usize, Option<End>),
    /// A piece placed.
    Place(GearId, usize),
    /// A knob turned over.
    Knob(KnobId),
    /// A piece switched on.
    Start(GearId),
    /// A mend.
    Mend(usize),
}

impl Plan {
    /// Nothing is done.
    pub fn is_empty(&self) -> bool {
        *self == Plan::default()
    }

    /// Sorts every list, so that equal plans are equal values.
    pub fn tidy(&mut self) {
        self.pulls.sort_unstable();
        self.pulls.dedup();
        self.new.sort_unstable();
        self.places.sort_unstable();
        self.knobs.sort_unstable();
        self.knobs.dedup();
        self.starts.sort_unstable();
        self.starts.dedup();
        self.mends.sort_unstable();
        self.mends.dedup();
    }

    /// Is this plug taken out?
    pub fn pulls(&self, link: LinkId, end: End) -> bool {
        self.pulls.contains(&(link, end))
    }
}
