//! Sockets that nothing tells apart: mixer channels, outlets of a strip.
//!
//! Only the first free one of each class is offered; a plan with another is the same plan with the plugs swapped. One with a
//! plug in it is offered only when no free one is left: emptying it could only cost more.

use check::Problem;
use check::fault::Losses;
use check::ids::{RouteId, SocketId};
use check::spec::{Flow, Guard, Route};

/// For each socket the class it belongs to, itself where it is like no other.
#[derive(Clone, Debug)]
pub(crate) struct Alike {
    class: Vec<usize>,
    members: Vec<Vec<SocketId>>,
}

impl Alike {
    pub(crate) fn find(p: &Problem, losses: &Losses) -> Self {
        let n = p.spec.sockets.len();
        let named = named_by_guards(p);
        let mut class = vec![0; n];
        let mut members: Vec<Vec<SocketId>> = Vec::new();
        for s in (0..n).map(SocketId::at) {
            let free = |s: SocketId| !named[s.ix()] && !losses.socket(&p.spec, s);
            let same = members.iter().position(|m| free(s) && free(m[0]) && alike(p, losses, m[0], s));
            class[s.ix()] = same.unwrap_or_else(|| {
                members.push(Vec::new());
                members.len() - 1
            });
            members[class[s.ix()]].push(s);
        }
        Alike { class, members }
    }

    /// All sockets like this one, in the order of the file.
    pub(crate) fn of(&self, s: SocketId) -> &[SocketId] {
        &self.members[self.class[s.ix()]]
    }
}

fn named_by_guards(p: &Problem) -> Vec<bool> {
    let mut named = vec![false; p.spec.sockets.len()];
    let routes = p.spec.routes.iter().map(|r| r.guard);
    let makes = p.spec.gear.iter().flat_map(|g| &g.makes).map(|m| m.guard);
    let batteries = p.spec.gear.iter().map(|g| g.battery.and_then(|b| b.guard));
    let sounds = p.spec.gear.iter().flat_map(|g| &g.sounds).map(|s| s.guard);
    let supplies = p.spec.sockets.iter().map(|s| match s.flow {
        Flow::In { guard, .. } => guard,
        Flow::Out { .. } => None,
    });
    for guard in routes.chain(makes).chain(batteries).chain(supplies).chain(sounds).flatten() {
        let (Guard::Empty(s) | Guard::Filled(s)) = guard;
        named[s.ix()] = true;
    }
    named
}

fn alike(p: &Problem, losses: &Losses, a: SocketId, b: SocketId) -> bool {
    let (x, y) = (p.spec.socket(a), p.spec.socket(b));
    let plain = x.gear == y.gear
        && x.flow == y.flow
        && x.connectors == y.connectors
        && x.wire == y.wire
        && x.tail == y.tail
        && x.rise == y.rise
        && p.sounding[a.ix()] == p.sounding[b.ix()];
    if !plain {
        return false;
    }
    let gear = &p.spec.gear[x.gear.ix()];
    if gear.makes.iter().any(|m| m.socket == a || m.socket == b) {
        return false;
    }
    // Routes out of the two match one by one; routes into them are the same routes.
    let (ra, rb) = (&p.routes_from[a.ix()], &p.routes_from[b.ix()]);
    let same_routes = ra.len() == rb.len() && ra.iter().zip(rb).all(|(i, j)| alike_routes(p, losses, *i, *j));
    let fed = |s: SocketId| -> Vec<usize> {
        p.spec.routes.iter().enumerate().filter(|(_, r)| r.to.contains(&s)).map(|(i, _)| i).collect()
    };
    same_routes && fed(a) == fed(b)
}

/// A knob that also turns what starts at another socket tells the two apart; one of their own, or shared by both, does not.
fn alike_knobs(p: &Problem, i: RouteId, j: RouteId) -> bool {
    let own = |r: RouteId| {
        let from = p.spec.routes[r.ix()].from;
        p.spec.routes.iter().all(|q| q.knob != p.spec.routes[r.ix()].knob || q.from == from)
    };
    match (p.spec.routes[i.ix()].knob, p.spec.routes[j.ix()].knob) {
        (None, None) => true,
        (Some(a), Some(b)) => a == b || (own(i) && own(j)),
        (None, Some(_)) | (Some(_), None) => false,
    }
}

fn alike_routes(p: &Problem, losses: &Losses, i: RouteId, j: RouteId) -> bool {
    let (a, b): (&Route, &Route) = (&p.spec.routes[i.ix()], &p.spec.routes[j.ix()]);
    a.to == b.to
        && a.gain == b.gain
        && alike_knobs(p, i, j)
        && a.on == b.on
        && a.points == b.points
        && a.takes == b.takes
        && a.guard == b.guard
        && a.passive == b.passive
        && a.only_if == b.only_if
        && a.mutes == b.mutes
        && losses.route(i) == losses.route(j)
}
