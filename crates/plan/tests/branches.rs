//! Circuits with a fuse of their own are asked what the main one is asked.

use plan::given::document::read;
use plan::given::shelf_read::standard;
use plan::{Plan, plan};

const MAIN: &str = include_str!("../src/checks/marked_base.toml");

/// The base with branches written before its prices.
fn planned(branches: &str) -> Plan {
    let text = MAIN.replace("[prices]", &format!("{branches}\n[prices]"));
    let reading = read(&text);
    assert!(reading.errors.is_empty(), "{:#?}", reading.errors);
    plan(&reading.build, standard())
}

const HEATER: &str = r#"
[[protection.branch]]
name = "heater"
cable = "flex-125"
conductor = "10 mm2"
length = "2.2 m"
current = "22 A"
peak = "30 A"
peak-time = "10 s"
fuse-class = "gPV"
"#;

fn of<'a>(plan: &'a Plan, code: &str) -> Vec<(&'static str, &'a str)> {
    let found = plan.findings.iter().filter(|f| f.code == code && f.message.contains("heater"));
    found.map(|f| (f.verdict.word(), f.message.as_str())).collect()
}

#[test]
fn a_branch_is_checked_alike() {
    let plan = planned(HEATER);
    let branch = &plan.protection.as_ref().unwrap().branches[0];
    assert_eq!(branch.fuse.as_ref().unwrap().row.id, "gPV 63 A");
    assert_eq!(branch.cable.as_deref(), Some("flex-125 10 mm2"));
    assert!(branch.coordination.as_ref().unwrap().guard.as_ref().unwrap().from_a.is_some());
    for code in [
        "fuse-chosen",
        "fuse-carries",
        "fuse-voltage",
        "fuse-breaking",
        "fuse-clears",
        "fuse-cable-withstand",
        "fuse-overload",
        "fuse-duty",
        "fuse-guards",
        "overload-limit",
    ] {
        let found = of(&plan, code);
        assert_eq!(found.len(), 1, "{code}");
        assert!(["holds", "close"].contains(&found[0].0), "{code}: {found:?}");
    }
}

#[test]
fn its_rating_is_computed_aloud_or_taken_as_stated() {
    let computed = planned(HEATER);
    let what = "what the cable of branch heater carries for ever";
    assert!(computed.assumed.iter().any(|a| a.what == what));
    let stated = planned(&HEATER.replace("length", "rating = \"66 A\"\nlength"));
    assert!(!stated.assumed.iter().any(|a| a.what == what));
    let asked = &stated.protection.as_ref().unwrap().branches[0].asked;
    assert_eq!(asked.cable_rating_a, Some(66.0));
}

#[test]
fn the_main_fuse_does_not_protect_a_thin_cable() {
    let plan = planned(&HEATER.replace("fuse-class = \"gPV\"", "fuse = \"gR 250 A\""));
    assert_eq!(of(&plan, "fuse-overload")[0].0, "fails");
    // A semiconductor fuse promises nothing of an hour, and the control watches the main current alone.
    assert_eq!(of(&plan, "overload-limit")[0].0, "unknown");
    assert!(!plan.for_building());
}

#[test]
fn a_branch_of_nothing_but_a_name_asks() {
    let plan = planned("[[protection.branch]]\nname = \"heater\"");
    let found = of(&plan, "fuse-chosen");
    assert_eq!(found[0].0, "unknown");
    assert!(found[0].1.contains("current is not known"), "{found:?}");
}

#[test]
fn a_fuse_on_no_shelf_is_told_once() {
    let plan = planned(&HEATER.replace("fuse-class = \"gPV\"", "fuse = \"gPV 64 A\""));
    assert_eq!(of(&plan, "fuse-chosen"), []);
    assert_eq!(plan.findings.iter().filter(|f| f.code == "part-exists").count(), 1);
}

#[test]
fn two_branches_stand_apart() {
    let second = HEATER.replace("heater", "converter").replace("10 mm2", "16 mm2");
    let plan = planned(&format!("{HEATER}{second}"));
    let names: Vec<&str> = plan
        .protection
        .as_ref()
        .unwrap()
        .branches
        .iter()
        .map(|b| b.coordination.as_ref().unwrap().name.as_str())
        .collect();
    assert_eq!(names, ["heater", "converter"]);
}
