//! Draws a placed picture as SVG. Every sign has its word beside it, so nothing rests on colour.
//!
//! Attributes draw it black on white by themselves; a page may recolour by class (`ink`, `sheet`, `new`, `onnew`).

use std::fmt::Write as _;

use super::layout::lay_out;
use super::rows::{CROSS, DEAD, FLARE, LINE};
use super::scene::{Boxed, Rect, Scene, Tag, TagKind, Wire};
use super::{Lead, LeadKind, LeadState, Picture, Role};

/// The picture as one `<svg>` element. `id` is unique on its page; `title` names the picture for a screen reader, and
/// its description is the same list of facts that stands before it.
pub fn svg(picture: &Picture, id: &str, title: &str) -> String {
    let scene = lay_out(picture);
    let mut out = Out(String::new());
    let (w, h) = (scene.width, scene.height);
    out.put(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"picture\" width=\"{w}\" height=\"{h}\" \
         viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"{id}-t\" aria-describedby=\"{id}-d\">",
        id = escape(id)
    ));
    out.put(format_args!("<title id=\"{}-t\">{}</title>", escape(id), escape(title)));
    let facts: Vec<String> = picture.facts().iter().map(ToString::to_string).collect();
    out.put(format_args!("<desc id=\"{}-d\">{}</desc>", escape(id), escape(&facts.join(" "))));
    out.scene(picture, &scene);
    out.0.push_str("</svg>");
    out.0
}

struct Out(String);

impl Out {
    fn put(&mut self, args: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.0.write_fmt(args);
    }

    fn scene(&mut self, picture: &Picture, scene: &Scene) {
        // New leads last, so that they lie over what they replace.
        let is_new =
            |w: &Wire| picture.leads.get(w.lead).is_some_and(|l| matches!(l.state, LeadState::New(_)));
        for new in [false, true] {
            for wire in scene.wires.iter().filter(|w| is_new(w) == new) {
                if let Some(lead) = picture.leads.get(wire.lead) {
                    self.wire(wire, lead);
                }
            }
        }
        for boxed in &scene.boxes {
            self.boxed(picture, boxed);
        }
        for tag in &scene.tags {
            self.tag(tag);
        }
        if let Some(y) = scene.audience {
            let (l, r, middle) = (8, scene.width - 8, scene.width / 2);
            self.put(format_args!(
                "<path class=\"line\" d=\"M{l} {y}H{r}\" stroke=\"#000\" stroke-width=\"2\"/>\
                 <text class=\"ink\" x=\"{middle}\" y=\"{ty}\" text-anchor=\"middle\" font-weight=\"700\" \
                 font-size=\"15\" letter-spacing=\"4\">AUDIENCE</text>",
                ty = y + 20
            ));
        }
    }

    fn wire(&mut self, wire: &Wire, lead: &Lead) {
        let new = matches!(lead.state, LeadState::New(_));
        let out = lead.state == LeadState::Out;
        let sound = matches!(lead.kind, LeadKind::Sound | LeadKind::Speaker);
        let arrow = wire.arrives && !out && lead.state != LeadState::Dead && (sound || new);
        let mut points = wire.points.clone();
        let end = points.last().copied().unwrap_or((0, 0));
        if let Some(last) = points.last_mut().filter(|_| arrow) {
            last.1 -= if new { 11 } else { 6 };
        }
        let path = chamfered(&points);
        let (class, width, edge) = if new { ("new", 5, 11) } else { ("line", 2, 7) };
        self.put(format_args!(
            "<path class=\"edge\" d=\"{path}\" fill=\"none\" stroke=\"#fff\" stroke-width=\"{edge}\"/>"
        ));
        let dash = match (out, lead.kind) {
            (true, _) => " stroke-dasharray=\"8 5\"",
            (false, LeadKind::LowVoltage) => " stroke-dasharray=\"9 3.5 2 3.5\"",
            (false, LeadKind::Sound | LeadKind::Speaker | LeadKind::Mains) => "",
        };
        self.put(format_args!(
            "<path class=\"{class}\" d=\"{path}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{width}\"{dash}/>"
        ));
        match lead.kind {
            LeadKind::Mains => self.ticks(&points, class),
            LeadKind::Speaker => self.beads(&points, class),
            LeadKind::Sound | LeadKind::LowVoltage => {}
        }
        let (x, y) = end;
        if arrow {
            let (half, tall) = if new { (9, 14) } else { (5, 9) };
            self.put(format_args!(
                "<path class=\"{class}fill\" d=\"M{x} {y}l-{half} -{tall}h{}z\" fill=\"#000\"/>",
                half * 2
            ));
        }
        if lead.state == LeadState::Dead {
            self.put(format_args!(
                "<path class=\"line\" d=\"M{} {}l12 12m0 -12l-12 12\" stroke=\"#000\" stroke-width=\"3\"/>",
                x - 6,
                y - 15
            ));
        }
        if !wire.arrives {
            // A stroke across the end that hangs in the air: the one away from the box.
            let leaves = wire.points.first().is_some_and(|p| p.1 + 18 == end.1);
            let at = if leaves { end.1 } else { wire.points.first().map_or(0, |p| p.1) };
            self.put(format_args!(
                "<path class=\"line\" d=\"M{} {at}h14\" stroke=\"#000\" stroke-width=\"2.5\"/>",
                x - 7
            ));
        }
    }

    /// Cross ticks, as a railway on a map.
    fn ticks(&mut self, points: &[(i32, i32)], class: &str) {
        let mut d = String::new();
        for (a, b) in points.iter().zip(points.iter().skip(1)) {
            for (x, y) in along(*a, *b, 9) {
                let _ =
                    if a.1 == b.1 { write!(d, "M{x} {}v8", y - 4) } else { write!(d, "M{} {y}h8", x - 4) };
            }
        }
        self.put(format_args!("<path class=\"{class}\" d=\"{d}\" stroke=\"#000\" stroke-width=\"1.5\"/>"));
    }

    /// Beads: do not touch while the amplifier is on.
    fn beads(&mut self, points: &[(i32, i32)], class: &str) {
        for (a, b) in points.iter().zip(points.iter().skip(1)) {
            for (x, y) in along(*a, *b, 20) {
                self.put(format_args!(
                    "<circle class=\"{class}fill\" cx=\"{x}\" cy=\"{y}\" r=\"4\" fill=\"#000\"/>"
                ));
            }
        }
    }

    fn boxed(&mut self, picture: &Picture, boxed: &Boxed) {
        let Some(piece) = picture.pieces.get(boxed.piece) else { return };
        let Rect { x, y, w, h } = boxed.rect;
        let (r, b) = (x + w, y + h);
        let (l, k) = (x + FLARE, r - FLARE);
        let path = match piece.role {
            Role::Source => {
                format!("M{} {y}H{}L{r} {}V{b}H{x}V{}z", x + 10, r - 10, y + 10, y + 10)
            }
            Role::HeardByAudience => format!("M{l} {y}H{k}V{}L{r} {b}H{x}L{l} {}z", b - 14, b - 14),
            Role::HeardByPerformer => format!("M{x} {y}H{r}L{k} {}V{b}H{l}V{}z", y + 14, y + 14),
            Role::Passes | Role::Supply => format!("M{x} {y}H{r}V{b}H{x}z"),
        };
        self.put(format_args!(
            "<path class=\"box\" d=\"{path}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>"
        ));
        if piece.role == Role::Supply {
            self.put(format_args!(
                "<rect class=\"inkfill\" x=\"{x}\" y=\"{y}\" width=\"7\" height=\"{h}\"/>"
            ));
        }
        if piece.house {
            self.put(format_args!(
                "<rect class=\"line\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"#000\" \
                 stroke-width=\"1.2\"/>",
                x + 5,
                y + 5,
                (w - 10).max(1),
                (h - 10).max(1)
            ));
        }
        let middle = if piece.dead { x + (w - DEAD - CROSS) / 2 } else { x + w / 2 }
            + if piece.role == Role::Supply { 4 } else { 0 };
        if piece.dead {
            self.dead(boxed, middle);
        }
        let lines = i32::try_from(boxed.lines.len()).unwrap_or(1);
        let first = y + h / 2 + 5 - (lines - 1) * LINE / 2;
        for (i, line) in (0_i32..).zip(&boxed.lines) {
            self.put(format_args!(
                "<text class=\"ink\" x=\"{middle}\" y=\"{}\" text-anchor=\"middle\" font-weight=\"700\" \
                 font-size=\"15\">{}</text>",
                first + i * LINE,
                escape(line)
            ));
        }
    }

    /// Hatch, cross and the word; the name stays readable on a clear ground.
    fn dead(&mut self, boxed: &Boxed, middle: i32) {
        let Rect { x, y, w, h } = boxed.rect;
        let mut d = String::new();
        // 45° lines, each cut off at the box's edges.
        for c in (x - h..x + w).step_by(10) {
            let (x1, x2) = (c.max(x), (c + h).min(x + w));
            if x2 > x1 {
                let _ = write!(d, "M{x1} {}L{x2} {}", y + h - (x1 - c), y + h - (x2 - c));
            }
        }
        self.put(format_args!("<path class=\"hatch\" d=\"{d}\" stroke=\"#000\" stroke-width=\"1\"/>"));
        let clear = (middle - x - 8).max(10);
        self.put(format_args!(
            "<rect class=\"sheet\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\"/>",
            middle - clear,
            y + 6,
            2 * clear,
            h - 12
        ));
        let right = x + w;
        for (class, colour, width) in [("edge", "#fff", 11), ("line", "#000", 5)] {
            self.put(format_args!(
                "<path class=\"{class}\" d=\"M{} {}L{} {}M{} {}L{} {}\" stroke=\"{colour}\" stroke-width=\"{width}\"/>",
                right - CROSS + 2,
                y - 2,
                right - 2,
                y + h + 2,
                right - 2,
                y - 2,
                right - CROSS + 2,
                y + h + 2
            ));
        }
        self.word(
            Rect { x: right - CROSS - DEAD + 2, y: y + h / 2 - 10, w: DEAD - 6, h: 20 },
            "DEAD",
            "inkfill",
            "onink",
        );
    }

    fn tag(&mut self, tag: &Tag) {
        let rect = tag.rect;
        match &tag.kind {
            TagKind::Disc(step) => {
                let (x, y) = (rect.middle(), rect.y + rect.h / 2);
                let size = if *step > 9 { 14 } else { 16 };
                self.put(format_args!(
                    "<circle class=\"newfill disc\" cx=\"{x}\" cy=\"{y}\" r=\"{}\" fill=\"#000\" stroke=\"#fff\" \
                     stroke-width=\"2\"/><text class=\"onnew\" x=\"{x}\" y=\"{}\" text-anchor=\"middle\" \
                     font-weight=\"700\" font-size=\"{size}\" fill=\"#fff\">{step}</text>",
                    rect.w / 2,
                    y + 5
                ));
            }
            TagKind::New => self.word(rect, "NEW", "newfill", "onnew"),
            TagKind::Dead => self.word(rect, "DEAD", "inkfill", "onink"),
            TagKind::Out => {
                self.put(format_args!(
                    "<rect class=\"box\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\" stroke=\"#000\" \
                     stroke-width=\"1.5\"/>",
                    rect.x,
                    rect.y,
                    rect.w,
                    rect.h
                ));
                self.letters(rect.middle(), rect.y + 15, "middle", "OUT", "ink", "#000");
            }
            TagKind::Short(words) | TagKind::Label(words) => {
                self.letters(rect.x, rect.y + 15, "start", words, "ink", "#000");
            }
        }
    }

    fn word(&mut self, rect: Rect, word: &str, ground: &str, ink: &str) {
        self.put(format_args!(
            "<rect class=\"{ground}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            rect.x, rect.y, rect.w, rect.h
        ));
        self.letters(rect.middle(), rect.y + rect.h / 2 + 5, "middle", word, ink, "#fff");
    }

    fn letters(&mut self, x: i32, y: i32, anchor: &str, words: &str, class: &str, fill: &str) {
        self.put(format_args!(
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\" font-weight=\"700\" \
             font-size=\"15\" fill=\"{fill}\">{}</text>",
            escape(words)
        ));
    }
}

/// Points each `step` along a level or upright stretch, away from its ends.
fn along(a: (i32, i32), b: (i32, i32), step: usize) -> Vec<(i32, i32)> {
    let (x0, x1) = (a.0.min(b.0), a.0.max(b.0));
    let (y0, y1) = (a.1.min(b.1), a.1.max(b.1));
    if a.1 == b.1 {
        (x0 + 6..x1 - 4).step_by(step).map(|x| (x, a.1)).collect()
    } else {
        (y0 + 6..y1 - 4).step_by(step).map(|y| (a.0, y)).collect()
    }
}

/// A path with its corners cut at 45°.
fn chamfered(points: &[(i32, i32)]) -> String {
    let mut d = String::new();
    let Some(first) = points.first() else { return d };
    let _ = write!(d, "M{} {}", first.0, first.1);
    for i in 1..points.len() {
        let (Some(&before), Some(&at)) = (points.get(i - 1), points.get(i)) else { continue };
        let Some(&after) = points.get(i + 1) else {
            let _ = write!(d, "L{} {}", at.0, at.1);
            continue;
        };
        let reach = |p: (i32, i32)| ((p.0 - at.0).abs() + (p.1 - at.1).abs()) / 2;
        let cut = reach(before).min(reach(after)).min(8);
        let toward = |p: (i32, i32)| (at.0 + (p.0 - at.0).signum() * cut, at.1 + (p.1 - at.1).signum() * cut);
        let ((ax, ay), (bx, by)) = (toward(before), toward(after));
        let _ = write!(d, "L{ax} {ay}L{bx} {by}");
    }
    d
}

fn escape(s: &str) -> String {
    let mut out = String::with_capacity(s.len());
    for c in s.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}
