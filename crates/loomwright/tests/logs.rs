//! Builds whose drive is a log beside them.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use std::fs;

use common::{folder, root, run, word};

/// The driven example with a log in the place of its cycle.
fn logged(duty: &str) -> String {
    let text = fs::read_to_string(root().join("builds/hill-wagon/build.toml")).unwrap();
    let (before, after) = text.split_once("[duty]").unwrap();
    let (_, after) = after.split_once("# ----").unwrap();
    format!("{before}[duty]\n{duty}\n# ----{after}")
}

#[test]
fn a_drive_from_csv_sizes_the_cables() {
    let folder = folder("csv-log");
    let duty =
        "file = \"drive.csv\"\ncolumns = { time = \"Time [s]\", speed = \"Velocity [km/h]\" }";
    fs::write(folder.join("build.toml"), logged(duty)).unwrap();
    let rows: Vec<String> = (0..600).map(|k| format!("{k};{}", 30 + (k % 60) / 2)).collect();
    let text = format!("Time [s];Velocity [km/h]\r\n{}\r\n", rows.join("\r\n"));
    fs::write(folder.join("drive.csv"), text).unwrap();
    let planned = run(&["plan", word(&folder)]);
    assert_ne!(planned.status, 2, "{}", planned.err);
    assert!(
        planned.out.contains("HOTTEST IN") && planned.out.contains("log"),
        "{}",
        planned.out
    );
}

#[test]
fn a_drive_from_mdf_is_taken_as_logged() {
    let folder = folder("mdf-log");
    let duty = "file = \"drive.mf4\"\ncolumns = { torque = \"MotorTorque\", motor-speed = \
        \"MotorSpeed\", dc-current = \"PackCurrent\" }";
    fs::write(folder.join("build.toml"), logged(duty)).unwrap();
    let log = root().join("crates/loomwright/tests/logs/deflate.mf4");
    fs::copy(log, folder.join("drive.mf4")).unwrap();
    let planned = run(&["plan", word(&folder), "--json"]);
    assert_ne!(planned.status, 2, "{}", planned.err);
    let json: serde_json::Value = serde_json::from_str(&planned.out).unwrap();
    let amps = json["runs"][1]["duty"]["current_a_rms"].as_f64().unwrap();
    // 18.79 A over the rows; between two rows the current is a straight line.
    assert!((amps - 18.79).abs() < 0.1, "{amps}");
}

#[test]
fn mistakes_are_shown_in_the_document() {
    let folder = folder("wrong-log");
    let duty = "file = \"drive.csv\"\ncolumns = { time = \"Time\", speed = \"Velocty\" }";
    fs::write(folder.join("build.toml"), logged(duty)).unwrap();
    fs::write(folder.join("drive.csv"), "Time,Velocity\n0,1\n1,2\n").unwrap();
    let planned = run(&["plan", word(&folder)]);
    assert_eq!(planned.status, 2);
    assert!(planned.err.contains("no column `Velocty`") && planned.err.contains("Velocity"));
    assert!(planned.err.contains("in which unit `Time`"), "{}", planned.err);
    fs::remove_file(folder.join("drive.csv")).unwrap();
    assert_eq!(run(&["plan", word(&folder)]).status, 2);
}
