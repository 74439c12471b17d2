//! How it is plugged: links. (Placements and settings stand with the gear.)

use std::ops::Range;

use crate::{LeadId, SocketRef};

/// One connection: socket, leads, socket.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Out-socket.
    pub from: SocketRef,
    /// Leads and adapters in order from `from`; empty when one of the two has its own cable.
    pub via: Vec<LeadId>,
    /// In-socket.
    pub to: SocketRef,
    /// Where the file says so, bytes.
    pub span: Range<usize>,
}

/// One of the two ends of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// At the out-socket.
    From,
    /// At the in-socket.
    To,
}
