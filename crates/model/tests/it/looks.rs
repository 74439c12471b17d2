//! A look is ticked when it was that: so a yes has to mean that something is wrong, on every piece alike.

use model::shelf;

#[test]
fn a_yes_to_a_look_means_that_something_is_wrong() {
    let mut looks = 0;
    for look in shelf::kinds().iter().flat_map(|k| &k.body.looks) {
        looks += 1;
        let ask = look.ask.trim_end_matches('?').to_lowercase();
        let all_is_well = ask.ends_with(" home") || ask.ends_with(" up") || ask.ends_with(" on");
        // A lamp that is lit means trouble on a mute alone.
        let lit = ask.ends_with(" lit") && !ask.starts_with("mute");
        assert!(!all_is_well && !lit, "{:?} is answered yes when all is well ({})", look.ask, look.state);
        assert!(look.ask.split_whitespace().count() <= 5, "{:?}", look.ask);
    }
    assert!(looks > 40, "only {looks} looks on the shelf");
}
