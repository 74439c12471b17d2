//! Each check of a link: two rigs that trip it and a near miss.

use crate::expect::check_links;

#[test]
fn a_stereo_plug_in_a_balanced_input_loses_the_middle() {
    let tripped = check_links(
        "gear LAPTOP = laptop, at 0 0
gear SPEAKER = powered speaker, at 0.5 0
lead stereo mini to jack 3 m: own 1
LAPTOP PHONES > stereo mini to jack 3 m > SPEAKER A
#^ will not work [left-minus-right]
",
    );
    assert_eq!(tripped, 1);
}

#[test]
fn a_summing_lead_keeps_the_middle() {
    check_links(
        "gear LAPTOP = laptop, at 0 0
gear SPEAKER = powered speaker, at 0.5 0
lead summing lead 3 m: own 1
LAPTOP PHONES > summing lead 3 m > SPEAKER A
",
    );
}
