//! Each check of a link: rigs that trip it, and near misses.

use crate::expect::check_links;

#[test]
fn a_stereo_plug_in_a_balanced_input_loses_the_middle() {
    let tripped = check_links(
        "gear LAPTOP = laptop, at 0 0
gear PIANO = stage piano, at 0 0
gear SPEAKER = powered speaker, at 0.5 0
gear MIXER = mixer, at 0.5 0
lead stereo mini to jack 3 m: own 1
lead balanced jack 3 m: own 1
LAPTOP PHONES > stereo mini to jack 3 m > SPEAKER A
#^ will not work [left-minus-right]
PIANO PHONES > balanced jack 3 m > MIXER 3
#^ will not work [left-minus-right]
",
    );
    assert_eq!(tripped, 2);
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

#[test]
fn two_poles_take_one_side_and_a_mono_plug_fills_one_ear() {
    check_links(
        "gear PIANO = stage piano, at 0 0
gear PEDAL = looper pedal, at 0.5 0
gear MIXER = mixer, at 0.5 0
gear CANS = headphones, at 0 0
lead jack 3 m: own 2
PIANO PHONES > jack 3 m > PEDAL IN
#^ will not work [one-side-only]
MIXER AUX > CANS IN
#^ will not work [one-side-only]
#^ will not work [wrong-signal]
",
    );
    check_links(
        "gear PIANO = stage piano, at 0 0
gear CANS = headphones, at 0 0
PIANO PHONES > CANS IN
",
    );
}

#[test]
fn loudspeaker_power_goes_to_loudspeakers_by_speaker_leads() {
    check_links(
        "gear AMP = other, at 0 0, on floor
  socket IN: in, jack, takes line -20..20 dBu into 20000 ohm
  socket A: out, jack, speaker 30/40 dBu
  socket B: out, jack, speaker 30/40 dBu
  socket C: out, jack, speaker 30/40 dBu
gear BOX 1 = other, at 0.5 0, on floor
  socket IN: in, jack, takes speaker 0..50 dBu into 8 ohm
gear BOX 2 = other, at 0.5 0, on floor
  socket IN: in, jack, takes speaker 0..50 dBu into 8 ohm
gear MIXER = mixer, at 0.5 0
gear PIANO = stage piano, at 0 0
gear BOX 3 = other, at 0.5 0, on floor
  socket IN: in, jack, takes speaker 0..50 dBu into 8 ohm
lead jack 3 m: own 4
lead speaker 3 m: own 4
AMP A > jack 3 m > MIXER 3
#^ hazard [speaker-into-input]
#^ hazard [thin-lead-to-speaker]
AMP B > jack 3 m > BOX 1 IN
#^ hazard [thin-lead-to-speaker]
AMP C > speaker 3 m > BOX 2 IN
PIANO L/MONO > jack 3 m > BOX 3 IN
#^ will not work [no-amplifier]
PIANO R > speaker 3 m > MIXER 4
#^ will not work [lead-not-for-it]
",
    );
}

#[test]
fn an_instrument_wants_a_direct_box() {
    check_links(
        "gear VIOLIN = violin with piezo pickup, at 0 0
gear MIXER = mixer, at 0.5 0
gear VIOLIN 2 = violin with piezo pickup, at 0 0
gear PEDAL = acoustic preamp pedal, at 0.5 0
lead jack to XLR 3 m: own 1
lead jack 3 m: own 1
lead XLR 3 m: own 1
VIOLIN OUT > jack to XLR 3 m > MIXER 1
#^ will not work [instrument-into-microphone]
VIOLIN 2 OUT > jack 3 m > PEDAL IN
PEDAL DI OUT > XLR 3 m > MIXER 2
",
    );
}

#[test]
fn a_microphone_wants_the_xlr_side() {
    check_links(
        "gear MIC = vocal mic, at 0 0
gear MIC 2 = vocal mic, at 0 0
gear MIC 3 = vocal mic, at 0 0
gear MIXER = mixer, at 0.2 0
lead XLR 6 m: own 3
lead XLR to jack adapter: own 2
MIC OUT > XLR 6 m > XLR to jack adapter > MIXER 1
#^ will not work [wrong-side-of-combined]
MIC 2 OUT > XLR 6 m > MIXER 2
MIC 3 OUT > XLR 6 m > XLR to jack adapter > MIXER 3
#^ will not work [wrong-signal]
",
    );
}

#[test]
fn a_level_that_no_knob_brings_into_the_window_is_told() {
    check_links(
        "gear LOUD = other, at 0 0, on floor
  socket OUT: out, jack, line 10/30 dBu, 150 ohm
gear SOFT = other, at 0 0, on floor
  socket OUT: out, jack, line -60/-40 dBu, 150 ohm
gear FAIR = other, at 0 0, on floor
  socket OUT: out, jack, line 4/30 dBu down to -20 dBu, 150 ohm
gear MIXER = mixer, at 0.2 0
lead jack 3 m: own 3
LOUD OUT > jack 3 m > MIXER 3
#^ will not work [wrong-level]
SOFT OUT > jack 3 m > MIXER 4
#^ will not work [wrong-level]
FAIR OUT > jack 3 m > MIXER 5
",
    );
}

#[test]
fn one_leg_of_a_balanced_output_is_half_the_level() {
    check_links(
        "gear MIXER = mixer, at 0 0
gear SPEAKER = powered speaker, at 0.5 0
gear MONITOR = small monitor, at 0.5 0
lead jack 3 m: own 1
lead XLR 3 m: own 1
lead XLR 10 m: own 1
MIXER AUX > jack 3 m > MONITOR IN
#^ sounds different 1 [half-level]
MIXER MAIN L > XLR 10 m > SPEAKER A
",
    );
}

/// A dynamic microphone's coil floats, so an unbalanced lead costs hum, not level.
#[test]
fn a_dynamic_microphone_loses_nothing_by_two_poles() {
    check_links(
        "gear MIC = vocal mic, at 0 0
gear BOX = other, at 0.5 0, on floor
  socket IN: in, jack, takes mic -60..-10 dBu into 2000 ohm
lead XLR to jack adapter: own 1
lead XLR 3 m: own 1
MIC OUT > XLR 3 m > XLR to jack adapter > BOX IN
",
    );
}

/// Into 15 kilohm: 10 kilohm lose 4.4 dB, 30 lose 9.5, 5 lose 2.5, 7.5 lose 3.5.
#[test]
fn a_load_as_low_as_the_source_costs_level() {
    check_links(
        "gear A = other, at 0 0, on floor
  socket 1: out, jack, line -8/10 dBu, 10000 ohm
  socket 2: out, jack, line -8/10 dBu, 30000 ohm
  socket 3: out, jack, line -8/10 dBu, 5000 ohm
  socket 4: out, jack, line -8/10 dBu, 7500 ohm
gear MIXER = mixer, at 0.2 0
lead jack 3 m: own 4
A 1 > jack 3 m > MIXER 3
#^ sounds different 1 [low-load]
A 2 > jack 3 m > MIXER 4
#^ sounds different 2 [low-load]
A 3 > jack 3 m > MIXER 5
A 4 > jack 3 m > MIXER 6
#^ sounds different 1 [low-load]
",
    );
}

/// 1 nF and 3 m of lead (0.3 nF): corners at 612 Hz into 200 kilohm, 122 Hz into 1 megohm.
#[test]
fn a_piezo_straight_into_a_passive_direct_box_is_thin() {
    check_links(
        "gear VIOLIN = violin with piezo pickup, at 0 0
gear DI = passive DI, at 0.5 0
gear VIOLIN 2 = violin with piezo pickup, at 0 0
gear SPEAKER = busking speaker, at 0.5 0
gear GUITAR = guitar with onboard preamp, at 0 0
gear DI 2 = passive DI, at 0.5 0
lead jack 3 m: own 3
VIOLIN OUT > jack 3 m > DI IN
#^ sounds different 2 [thin-pickup]
VIOLIN 2 OUT > jack 3 m > SPEAKER 1
GUITAR OUT > jack 3 m > DI 2 IN
",
    );
}

#[test]
fn a_magnetic_pickup_wants_a_high_load_and_a_short_lead() {
    check_links(
        "gear A = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
gear DI = passive DI, at 0.5 0
gear B = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
gear LOOPER = looper pedal, at 0.5 0
gear C = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
gear LOOPER 2 = looper pedal, at 0.5 0
gear D = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
gear LOOPER 3 = looper pedal, at 0.5 0
lead jack 3 m: own 3
lead jack 10 m: own 2
lead jack coupler: own 1
A OUT > jack 3 m > DI IN
#^ sounds different 1 [thin-pickup]
B OUT > jack 3 m > LOOPER IN
C OUT > jack 10 m > LOOPER 2 IN
#^ sounds different 1 [too-long]
D OUT > jack 10 m > jack coupler > jack 3 m > LOOPER 3 IN
#^ sounds different 2 [too-long]
",
    );
}

/// A preamp drives both legs, so the one that is earthed is lost.
#[test]
fn a_preamp_loses_half_by_two_poles() {
    check_links(
        "gear PEDAL = acoustic preamp pedal, at 0 0
gear BOX = other, at 0.5 0, on floor
  socket IN: in, jack, takes mic -60..-4 dBu into 2000 ohm
lead XLR to jack adapter: own 1
lead XLR 3 m: own 1
PEDAL DI OUT > XLR 3 m > XLR to jack adapter > BOX IN
#^ sounds different 1 [half-level]
",
    );
}

#[test]
fn phantom_reaches_only_what_gives_it_by_balanced_leads() {
    check_links(
        "gear COND = condenser vocal microphone, at 0 0
gear SPEAKER = powered speaker, at 0.2 0
  socket A: in, XLR, takes mic -60..-4 dBu into 3000 ohm
gear COND 2 = condenser vocal microphone, at 0 0
gear MIXER = mixer, at 0.2 0
  switch 48V on
gear HUNGRY = other, at 0 0, on floor
  socket OUT: out, XLR, mic -34/-10 dBu, 150 ohm, phantom needs 48 V and 14 mA
gear LOW = other, at 0 0, on floor
  socket OUT: out, XLR, mic -34/-10 dBu, 150 ohm, phantom needs 12 V (9..16) and 2 mA
gear DESK = other, at 0 0, on floor
  socket IN: in, XLR, takes mic -60..-4 dBu into 2000 ohm, phantom always
lead XLR 6 m: own 4
COND OUT > XLR 6 m > SPEAKER A
#^ will not work [phantom-too-weak]
COND 2 OUT > XLR 6 m > MIXER 1
HUNGRY OUT > XLR 6 m > MIXER 2
#^ will not work [phantom-too-weak]
LOW OUT > XLR 6 m > DESK IN
#^ hazard [phantom-too-weak]
",
    );
}

#[test]
fn phantom_switched_off_or_into_a_ribbon_is_told() {
    check_links(
        "gear COND = condenser vocal microphone, at 0 0
gear MIXER = mixer, at 0.2 0
  switch 48V off
gear RIBBON = other, at 0 0, on floor
  socket OUT: out, XLR, mic -52/-25 dBu, 300 ohm, phantom harmed
gear DESK = other, at 0 0, on floor
  socket IN: in, XLR, takes mic -60..-10 dBu into 2000 ohm, phantom always
gear RIBBON 2 = other, at 0 0, on floor
  socket OUT: out, XLR, mic -52/-25 dBu, 300 ohm, phantom harmed
lead XLR 6 m: own 3
COND OUT > XLR 6 m > MIXER 1
#^ will not work [phantom-off]
RIBBON 2 OUT > XLR 6 m > MIXER 2
RIBBON OUT > XLR 6 m > DESK IN
#^ hazard [phantom-harms]
",
    );
    check_links(
        "gear MIXER = mixer, at 0.2 0
  switch 48V on
gear RIBBON = other, at 0 0, on floor
  socket OUT: out, XLR, mic -52/-25 dBu, 300 ohm, phantom harmed
lead XLR 6 m: own 1
RIBBON OUT > XLR 6 m > MIXER 2
#^ hazard [phantom-harms]
",
    );
}

#[test]
fn supplies_match_in_volts_polarity_and_current() {
    check_links(
        "gear PIANO = stage piano, at 0 0
gear PIANO SUPPLY = 12 V supply, at 0 0, on floor
gear LOOPER = looper pedal, at 0 0
gear NINE = DC supply 9 V centre negative, at 0 0, on floor
gear PEDAL = acoustic preamp pedal, at 0 0
gear TWELVE = 12 V supply, at 0 0, on floor
gear PIANO 2 = stage piano, at 0 0
gear WEAK = DC supply 9 V centre negative, at 0 0, on floor
  socket OUT: out, barrel 2.1 plug, 9 V c-, gives 200 mA, tail 2 m
gear LOOPER 2 = looper pedal, at 0 0
gear FIVE = other, at 0 0, on floor
  socket OUT: out, barrel 2.1 plug, 5 V c-, gives 2000 mA, tail 2 m
gear LOOPER 3 = looper pedal, at 0 0
gear FIVE 2 = other, at 0 0, on floor
  socket OUT: out, barrel 2.1 plug, 5 V c+, gives 2000 mA, tail 2 m
gear LOOPER 4 = looper pedal, at 0 0
gear NINE 2 = DC supply 9 V centre negative, at 0 0, on floor
gear BOX = other, at 0 0, on floor
  socket IN: in, barrel 2.1, takes line -20..20 dBu
gear WALL = outlet, at 0 0
gear SPEAKER = powered speaker, at 0 0, on floor
gear SPEAKER 2 = powered speaker, at 0 0, on floor
lead kind bad: wall plug to C13, power, carries line, lengths 1 m
lead bad 1 m: own 1
lead mains 3 m: own 1
PIANO SUPPLY OUT > PIANO DC 12V
NINE OUT > LOOPER DC 9V
TWELVE OUT > PEDAL DC 9V
#^ hazard [supply-does-not-match]
WEAK OUT > LOOPER 2 DC 9V
#^ will not work [short-of-current]
FIVE OUT > LOOPER 3 DC 9V
#^ will not work [supply-does-not-match]
FIVE 2 OUT > LOOPER 4 DC 9V
#^ hazard [supply-does-not-match]
NINE 2 OUT > BOX IN
#^ hazard [wrong-signal]
WALL 1 > bad 1 m > SPEAKER MAINS
#^ hazard [lead-not-for-it]
WALL 2 > mains 3 m > SPEAKER 2 MAINS
",
    );
}

/// Up and down 1 m each, 2 m apart on the floor: 1 + 1 + 2.4 = 4.4 m.
#[test]
fn a_lead_hangs_down_runs_round_and_climbs_up() {
    check_links(
        "gear PIANO = stage piano, at 0 0
gear MIXER = mixer, at 2 0
gear PIANO 2 = stage piano, at 0.8 0
lead jack 3 m: own 2
PIANO L/MONO > jack 3 m > MIXER 3
#^ will not work [stops-short]
PIANO 2 L/MONO > jack 3 m > MIXER 4
#^ will not work [stops-short]
",
    );
    check_links(
        "gear PIANO = stage piano, at 0 0
gear MIXER = mixer, at 0.8 0
lead jack 3 m: own 1
PIANO L/MONO > jack 3 m > MIXER 3
",
    );
}

#[test]
fn a_plug_goes_where_it_fits() {
    check_links(
        "gear MIC = vocal mic, at 0 0
gear MIXER = mixer, at 0.2 0
gear LAPTOP = laptop, at 0 0
lead jack 3 m: own 1
lead XLR 6 m: own 1
MIC OUT > jack 3 m > MIXER 1
#^ will not work [lead-not-for-it]
#^ will not work [plug-does-not-fit]
LAPTOP PHONES > XLR 6 m > MIXER 2
#^ will not work [left-minus-right]
#^ will not work [plug-does-not-fit]
",
    );
}

#[test]
fn an_unbalanced_lead_gathers_hum_when_it_is_long() {
    check_links(
        "gear PIANO = stage piano, at 0 0
gear MIXER = mixer, at 6 0
lead jack 6 m: own 2
lead jack 10 m: own 1
lead jack coupler: own 1
PIANO L/MONO > jack 6 m > jack coupler > jack 6 m > MIXER 3
#^ sounds different 1 [too-long]
PIANO R > jack 10 m > MIXER 4
",
    );
}

/// A preamp of 3 kilohm drives a line input of 15; a bare pickup there is thin or dull past use.
#[test]
fn a_line_input_takes_a_preamp_and_no_bare_pickup() {
    check_links(
        "gear GUITAR = guitar with onboard preamp, at 0 0
gear LOOPER = looper pedal, at 0 0
gear PEDAL = acoustic preamp pedal, at 0 0
gear VIOLIN = violin with piezo pickup, at 0 0
gear COIL = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
gear MIXER = mixer, at 0.5 0
gear SPEAKER = powered speaker, at 0.5 0
lead jack 3 m: own 5
GUITAR OUT > jack 3 m > MIXER 1
LOOPER OUT > jack 3 m > MIXER 3
PEDAL OUT > jack 3 m > SPEAKER A
VIOLIN OUT > jack 3 m > MIXER 4
#^ will not work [thin-pickup]
COIL OUT > jack 3 m > MIXER 5
#^ will not work [thin-pickup]
",
    );
}
