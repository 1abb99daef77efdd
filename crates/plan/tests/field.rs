//! The magnetic field at named points, from a whole build.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use plan::design::field::{FieldPoint, Kind, Levels, Part};
use plan::given::document::read;
use plan::given::shelf_read::standard;
use plan::{Plan, plan};
use proptest::prelude::*;

/// Two runs with stated currents, cables of a stated size; DC cables a stated 20 mm apart where they pass.
fn build(extra: &str, distances: &str) -> String {
    format!(
        r#"
title = "Field"
[system]
voltage = "350 V"
voltage-max = "400 V"
[surroundings]
air = "40 degC"
{extra}
[device.inverter.port.phases]
terminals = ["U", "V", "W"]
[device.inverter.port.dc]
terminals = ["+", "-"]
[device.motor.port.phases]
terminals = ["U", "V", "W"]
[device.battery.port.main]
terminals = ["+", "-"]
[run.phases]
from = "inverter.phases"
to = "motor.phases"
length = "50 m"
current = "100 A"
peak = "240 A"
peak-time = "10 s"
frequency = "400 Hz"
lie = "flat"
conductor = "50 mm2"
[run.dc]
from = "battery.main"
to = "inverter.dc"
carries = "dc"
length = "50 m"
current = "100 A"
lie = "flat"
conductor = "50 mm2"
[field.point.seat]
distances = {distances}
spacings = {{ phases = "18 mm", dc = "20 mm" }}
"#
    )
}

const RIPPLE: &str = r#"
[motor]
kind = "nameplate"
carrier = "8 kHz"
[protection]
run = "dc"
capacitance = "600 uF"
source-inductance = "15 uH"
"#;

#[track_caller]
fn planned(text: &str) -> Plan {
    let reading = read(text);
    assert!(reading.errors.is_empty(), "{:#?}", reading.errors);
    plan(&reading.build, standard())
}

fn part(point: &FieldPoint, kind: Kind) -> &Part {
    point.parts.iter().find(|p| p.kind == kind).unwrap()
}

#[test]
fn val_by_hand_from_the_build_to_the_sum() {
    let plan = planned(&build(RIPPLE, r#"{ phases = "2 m", dc = "1 m" }"#));
    let point = &plan.field[0];
    assert!(point.is_known(), "{:?}", point.lacks);
    // Far field of a flat three, 0.2 √3 I s / r² with I in A and lengths in m, here 240 A, 18 mm, 2 m: 0.37412 µT, in
    // truth a few parts in ten thousand more. A run of fifty metres has four per cent more where it ends near by.
    let turning = part(point, Kind::Turning);
    let worst = &turning.worst[0];
    assert_eq!((worst.when.as_str(), worst.current_a_rms), ("peak", 240.0));
    let ends = worst.field_ut / (0.2 * 3f64.sqrt() * 240.0 * 0.018 / 4.0);
    assert!((1.0..1.06).contains(&ends), "{ends}");
    // A pair: 0.2 I s / r² = 0.4 µT.
    let steady = part(point, Kind::Steady).worst[0].field_ut / 0.4;
    assert!((1.0..1.06).contains(&steady), "{steady}");
    // Ripple at 16 kHz: at most 0.6498 of 240 A, of which 1/((16/1.6776)² − 1) = 1.112 % flow in the cables.
    let ripple = &part(point, Kind::Ripple).worst[1];
    assert_eq!(ripple.frequency_hz, 16e3);
    assert!((ripple.current_a_rms / (0.6498 * 240.0 * 0.01112) - 1.0).abs() < 2e-3);
    // Levels: 0.2 mT at 400 Hz and 27 µT at 16 kHz; 5000/f µT and 6.25 µT; 400 and 40 mT standing.
    let levels = |kind| part(point, kind).worst.each_ref().map(|w| w.level_ut);
    assert_eq!(levels(Kind::Turning), [200.0, 12.5]);
    assert_eq!(levels(Kind::Ripple), [27.0, 6.25]);
    assert_eq!(levels(Kind::Steady), [400e3, 40e3]);
    let sum = worst.field_ut / 200.0 + part(point, Kind::Ripple).worst[0].field_ut / 27.0;
    assert!((point.alternating(Levels::Guideline) / sum - 1.0).abs() < 1e-12);
}

#[test]
fn a_run_that_names_nothing_is_refused_by_name() {
    let reading = read(&build(RIPPLE, r#"{ phaces = "2 m", dc = "1 m" }"#));
    let error = reading.errors.iter().find(|e| e.message.contains("phaces")).unwrap();
    assert_eq!(error.hint.as_deref(), Some("did you mean \"phases\"?"));
}

#[test]
fn what_is_not_known_leaves_the_verdict_open() {
    let plan = planned(&build("", r#"{ phases = "2 m", dc = "1 m" }"#));
    let lacks = &plan.field[0].lacks;
    assert_eq!(lacks.len(), 1, "{lacks:?}");
    assert!(lacks[0].what.contains("ripple"));
    for code in ["field-guideline", "field-recommendation", "field-implants"] {
        let found = plan.findings.iter().find(|f| f.code == code).unwrap();
        assert_eq!(found.verdict.word(), "unknown", "{}", found.message);
    }
}

#[test]
fn a_build_that_names_no_point_says_nothing_of_fields() {
    let text =
        build(RIPPLE, "{}").replace("[field.point.seat]", "").replace("distances = {}", "");
    let text =
        text.lines().filter(|l| !l.starts_with("spacings")).collect::<Vec<_>>().join("\n");
    let plan = planned(&text);
    assert!(
        plan.field.is_empty() && plan.findings.iter().all(|f| !f.code.starts_with("field-"))
    );
    assert!(plan.assumed.iter().all(|a| !a.what.contains("field")));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    /// Farther is never worse, and levels are never mixed up: the recommendation is the stricter one.
    #[test]
    fn prop_farther_is_never_worse(near in 0.1f64..3.0, more in 0.01f64..3.0) {
        let of = |m: f64| {
            let plan = planned(&build(RIPPLE, &format!("{{ phases = \"{m:.3} m\", dc = \"{m:.3} m\" }}")));
            let point = &plan.field[0];
            (point.share(Levels::Guideline), point.share(Levels::Recommendation), point.implants())
        };
        let (close, far) = (of(near), of(near + more));
        prop_assert!(far.0 <= close.0 && far.1 <= close.1 && far.2 <= close.2);
        prop_assert!(close.0 < close.1);
    }
}
