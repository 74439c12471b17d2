//! Where everything in a picture stands, in whole CSS pixels. Drawing and tests both read this.

/// A rectangle; `x`, `y` is its top left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rect {
    /// From the left.
    pub x: i32,
    /// From the top.
    pub y: i32,
    /// Width.
    pub w: i32,
    /// Height.
    pub h: i32,
}

impl Rect {
    /// The x just past the right edge.
    pub fn right(self) -> i32 {
        self.x + self.w
    }

    /// The y just past the foot.
    pub fn foot(self) -> i32 {
        self.y + self.h
    }

    /// The middle, left to right.
    pub fn middle(self) -> i32 {
        self.x + self.w / 2
    }

    /// Whether the insides share a point.
    pub fn meets(self, other: Self) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.foot() && other.y < self.foot()
    }

    /// Whether `other` lies wholly inside.
    pub fn holds(self, other: Self) -> bool {
        other.x >= self.x && other.y >= self.y && other.right() <= self.right() && other.foot() <= self.foot()
    }

    /// Whether the straight line between two points, level or upright, passes through the inside.
    pub fn crossed_by(self, a: (i32, i32), b: (i32, i32)) -> bool {
        a.0.min(b.0) < self.right()
            && a.0.max(b.0) > self.x
            && a.1.min(b.1) < self.foot()
            && a.1.max(b.1) > self.y
    }
}

/// A piece's box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Boxed {
    /// Index into the picture's pieces.
    pub piece: usize,
    /// The whole outline, flares included.
    pub rect: Rect,
    /// The name, in one or two lines.
    pub lines: Vec<String>,
}

/// A lead's line: level and upright stretches only.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wire {
    /// Index into the picture's leads.
    pub lead: usize,
    /// From its start to where it arrives.
    pub points: Vec<(i32, i32)>,
    /// Whether it reaches what it points at; a stub does not.
    pub arrives: bool,
}

/// A sign or word beside or on a lead's line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// Index into the picture's leads.
    pub lead: usize,
    /// The room it takes.
    pub rect: Rect,
    /// What it is.
    pub kind: TagKind,
}

/// The signs and words beside leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TagKind {
    /// A black disc with the step's number, on the line.
    Disc(u32),
    /// The word NEW, beside the disc.
    New,
    /// The word OUT in a box, on the line.
    Out,
    /// The word DEAD, on the line.
    Dead,
    /// "1 m short".
    Short(String),
    /// What is printed beside the socket.
    Label(String),
}

/// A whole picture in place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scene {
    /// Canvas width.
    pub width: i32,
    /// Canvas height.
    pub height: i32,
    /// The boxes.
    pub boxes: Vec<Boxed>,
    /// The lines of the leads.
    pub wires: Vec<Wire>,
    /// Signs and words.
    pub tags: Vec<Tag>,
    /// The y of the audience's line.
    pub audience: Option<i32>,
}
