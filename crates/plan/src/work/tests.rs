//! Kit and steps against each other, and the order of steps against the rules of the hand, over many
//! variants of the base build.

use proptest::prelude::*;

use super::steps::{Action, Step};
use crate::Plan;
use crate::checks::marked::{BASE, merge, planned};

/// A variant of the base build: ways the parts and their order may differ.
fn variant() -> impl Strategy<Value = String> {
    (
        60.0f64..420.0,
        0.3f64..9.0,
        prop::sample::select(vec!["straight", "bent"]),
        prop::sample::select(vec!["tapped", "clear"]),
        prop::sample::select(vec!["plain", "none", "disc"]),
        prop::sample::select(vec!["awg", "metric"]),
        1u32..9,
        prop::bool::ANY,
        prop::sample::select(vec!["", "grip-contact", "pigtail", "none", "unstated"]),
    )
        .prop_map(|(amps, metres, palm, hole, washer, sizes, bolts, ring, screen)| {
            let cable = if screen.is_empty() { "flex-125" } else { "flex-125-screened" };
            let screen = match screen {
                "" | "unstated" => String::new(),
                how => format!("screen = \"{how}\""),
            };
            let ring = if ring { "\"265\"" } else { "absent" };
            format!(
                r#"
                [device.motor.port.phases.plate]
                grip-hole = "{hole}"
                bolt-count = {bolts}
                o-ring = {ring}
                [run.phases]
                lengths = absent
                length = "{metres:.2} m"
                current = "{amps:.0} A"
                cable = "{cable}"
                sizes = "{sizes}"
                [run.phases.from-end]
                palm = "{palm}"
                washer = "{washer}"
                {screen}
                "#
            )
        })
}

fn index_of(steps: &[Step], id: &str) -> usize {
    steps.iter().position(|s| s.id == id).unwrap_or_else(|| panic!("no step {id}"))
}

/// Every part of the steps, with its count.
fn in_steps(plan: &Plan) -> Vec<(String, u32)> {
    let mut sum: Vec<(String, u32)> = Vec::new();
    for (part, count) in plan.steps.iter().flat_map(|s| &s.parts) {
        match sum.iter_mut().find(|(p, _)| p == part) {
            Some((_, n)) => *n += count,
            None => sum.push((part.clone(), *count)),
        }
    }
    sum.sort();
    sum
}

fn in_kit(plan: &Plan) -> Vec<(String, u32)> {
    let mut kit: Vec<(String, u32)> =
        plan.kit.items.iter().map(|i| (i.part.clone(), i.count)).collect();
    kit.sort();
    kit
}

fn grips_before_lugs(plan: &Plan) -> Result<(), TestCaseError> {
    for end in &plan.ends {
        let mine = |action: Action| {
            plan.steps.iter().position(|s| {
                s.action == action
                    && s.about.run.as_deref() == Some(&end.run)
                    && s.about.cable.as_deref() == Some(&end.cable)
                    && s.about.port.as_deref() == Some(&end.port)
            })
        };
        let Some(crimp) = mine(Action::Crimp) else { continue };
        if let Some(grip) = &end.grip {
            let part = super::keys::grip(grip);
            let threaded = mine(Action::Thread).expect("a grip is put on");
            prop_assert!(plan.steps[threaded].parts.iter().any(|(p, _)| *p == part));
            prop_assert!(threaded < crimp, "{} {} {}", end.run, end.cable, end.port);
        }
        for early in &end.before_lug {
            prop_assert!(early.opening_mm <= early.lug_mm);
        }
        let on = plan.steps.iter().position(|s| {
            s.action == Action::Thread
                && s.about.run.is_none()
                && s.about.port == Some(end.port.clone())
        });
        if let Some(on) = on {
            prop_assert!(on < crimp, "the plate of {} goes on after a lug", end.port);
        }
    }
    Ok(())
}

fn torque_after_landing(plan: &Plan) -> Result<(), TestCaseError> {
    for (index, torque) in plan.steps.iter().enumerate() {
        if torque.action != Action::TorqueLug {
            continue;
        }
        let run = torque.about.run.as_ref().expect("a lug belongs to a run");
        for (other, land) in plan.steps.iter().enumerate() {
            if land.action == Action::Land && land.about.run.as_ref() == Some(run) {
                prop_assert!(other < index, "{} before {}", torque.id, land.id);
            }
            if land.action == Action::TorquePlate && land.about.port == torque.about.port {
                prop_assert!(index < other, "{} after {}", torque.id, land.id);
            }
        }
    }
    Ok(())
}

fn grips_and_covers_last(plan: &Plan) -> Result<(), TestCaseError> {
    let last_torque = plan.steps.iter().rposition(|s| {
        matches!(s.action, Action::TorqueLug | Action::TorquePlate | Action::TightenGrip)
    });
    for (index, step) in plan.steps.iter().enumerate() {
        if step.action == Action::Cover {
            prop_assert!(last_torque.is_none_or(|last| last < index));
        }
        if step.action == Action::TightenGrip {
            let plate = plan.steps.iter().position(|s| {
                s.action == Action::TorquePlate && s.about.port == step.about.port
            });
            prop_assert!(plate.is_none_or(|plate| plate < index));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn prop_steps_and_kit_hold_the_same_parts(patch in variant()) {
        let plan = planned(&merge(BASE, &patch));
        prop_assert_eq!(in_steps(&plan), in_kit(&plan));
        for item in &plan.kit.items {
            let used: u32 = item.uses.iter().map(|u| u.count).sum();
            prop_assert_eq!(used, item.count);
        }
    }

    #[test]
    fn prop_the_order_works(patch in variant()) {
        let plan = planned(&merge(BASE, &patch));
        for (index, step) in plan.steps.iter().enumerate() {
            for before in &step.after {
                prop_assert!(index_of(&plan.steps, before) < index);
            }
        }
        grips_before_lugs(&plan)?;
        torque_after_landing(&plan)?;
        grips_and_covers_last(&plan)?;
    }

    #[test]
    fn prop_every_cut_is_on_a_reel(patch in variant()) {
        let plan = planned(&merge(BASE, &patch));
        let pieces: usize = plan.kit.cuts.iter().map(|r| r.pieces.len()).sum();
        // A run whose lugs are on no shelf has no cut length; a finding says so.
        let cut = plan.runs.iter().zip(&plan.cuts).filter(|(_, cut)| cut.cut_mm.is_some());
        let cables: usize = cut.map(|(run, _)| run.cables.len()).sum();
        prop_assert_eq!(pieces, cables);
    }
}

/// A screen that ends in a pigtail brings its lug and its cover, dressed before the conductor is stripped.
#[test]
fn a_pigtail_is_packed_dressed_and_landed() {
    let patch = "[run.dc]\ncable = \"flex-125-screened\"\n[run.dc.from-end]\nscreen = \"pigtail\"\n[run.dc.to-end]\nscreen = \"grip-contact\"";
    let plan = planned(&merge(BASE, patch));
    assert_eq!(in_steps(&plan), in_kit(&plan));
    let lug =
        plan.kit.items.iter().find(|i| i.part == "pigtail lug M6").expect("a pigtail's lug");
    assert_eq!(lug.count, 2);
    let at = |id: &str| index_of(&plan.steps, id);
    let end = "dc-plus-battery-main";
    assert!(at(&format!("{end}-screen")) < at(&format!("{end}-strip")));
    let land = &plan.steps[at(&format!("{end}-land"))];
    assert!(land.text.iter().any(|t| t.contains("pigtail")), "{:?}", land.text);
    let grip = plan.ends.iter().find(|e| e.run == "dc" && e.port == "inverter.dc");
    assert!(grip.and_then(|e| e.grip.as_ref()).is_some_and(|g| g.screen_contact));
}

/// The base has every kind of part, so that the properties above speak of all of them.
#[test]
fn the_base_has_every_kind_of_part() {
    use super::kit::Kind;
    let plan = planned(BASE);
    for kind in [
        Kind::Cable,
        Kind::Lug,
        Kind::Sleeve,
        Kind::Grip,
        Kind::Bolt,
        Kind::Nut,
        Kind::Washer,
        Kind::Oring,
        Kind::Plate,
        Kind::Block,
        Kind::Fuse,
        Kind::Resistor,
        Kind::Label,
    ] {
        assert!(plan.kit.items.iter().any(|i| i.kind == kind), "no {kind:?}");
    }
}
