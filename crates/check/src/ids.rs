//! Small ordered numbers for the things of a problem. Each counts from 0 in the order of the rig file, so that
//! "order of the file" decides ties and names never do.

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u16);

        impl $name {
            /// The id of the `i`-th thing. A problem holds fewer than 65 536 of each (`Spec::compile` refuses more).
            #[expect(clippy::cast_possible_truncation, reason = "compile refuses problems with more things than fit")]
            pub fn at(i: usize) -> Self {
                Self(i as u16)
            }

            /// The place in the problem's list.
            pub fn ix(self) -> usize {
                usize::from(self.0)
            }
        }
    };
}

id!(
    /// A piece of gear.
    GearId
);
id!(
    /// A socket, counted over the whole rig: those of the first piece first.
    SocketId
);
id!(
    /// A way through a piece, counted over the whole rig.
    RouteId
);
id!(
    /// A lead or adapter type.
    LeadId
);
id!(
    /// A connection of the normal patch.
    LinkId
);
id!(
    /// What makes music: "voice", "keys".
    SourceId
);
id!(
    /// Somebody who hears: the house or a performer.
    ListenerId
);
id!(
    /// A source that a listener must hear, or must not.
    PartId
);
id!(
    /// A kind of signal or supply: "mic", "line", "mains".
    ClassId
);
id!(
    /// A switch a plan may turn: a switchable route, or one phantom button for several inputs.
    KnobId
);
id!(
    /// Something nobody has checked.
    FactId
);
id!(
    /// Something that is used up: cells, strings, fuses.
    WearId
);
