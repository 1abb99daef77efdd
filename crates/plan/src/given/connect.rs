//! Keys of the document that contradict each other: no part of the plan could make sense of them.
//!
//! A port or part that does not exist is no such thing: `parts` makes a finding of it.

use physics::units::{Dimension, System, show_both};

use super::build::{At, Build, Run};
use super::nearest::nearest;
use super::read::{Reader, brief, listed};

/// Notes every contradiction.
pub(super) fn check(reader: &mut Reader<'_>, build: &Build) {
    voltages(reader, build);
    for device in &build.devices {
        for port in &device.ports {
            twice(reader, "terminal", port.terminals.iter());
        }
    }
    for run in &build.runs {
        ends(reader, run);
    }
    let ids: Vec<&str> = build.runs.iter().map(|r| r.id.value.as_str()).collect();
    if let Some(run) = build.protection.as_ref().and_then(|p| p.run.as_ref()) {
        named(reader, run, "run", &ids);
    }
    for point in &build.field_points {
        for (run, _) in point.distances_mm.iter().chain(&point.spacings_mm) {
            named(reader, run, "run", &ids);
        }
    }
}

fn voltages(reader: &mut Reader<'_>, build: &Build) {
    let (Some(nominal), Some(max)) = (&build.system.voltage_v, &build.system.voltage_v_max)
    else {
        return;
    };
    if max.value < nominal.value {
        let show = |v| show_both(v, Dimension::Voltage, System::Metric);
        let message = format!(
            "the highest voltage {} is below the nominal {}",
            show(max.value),
            show(nominal.value)
        );
        reader.error_at(max.at, message, None);
    }
}

fn ends(reader: &mut Reader<'_>, run: &Run) {
    if let (Some(from), Some(to)) = (&run.from, &run.to)
        && from.value == to.value
    {
        let message = format!("the run ends at the port it starts at, `{}`", brief(&to.value));
        reader.error_at(to.at, message, None);
    }
    twice(reader, "terminal", run.cables.iter().map(|(from, _)| from));
    twice(reader, "terminal", run.cables.iter().map(|(_, to)| to));
}

fn named(reader: &mut Reader<'_>, name: &At<String>, what: &str, known: &[&str]) {
    if known.contains(&name.value.as_str()) {
        return;
    }
    let message = format!("there is no {what} `{}`", brief(&name.value));
    let hint = match nearest(&name.value, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if known.is_empty() => format!("the build has no {what} yet"),
        None => format!("the build has {}", brief(&listed(known))),
    };
    reader.error_at(name.at, message, Some(hint));
}

fn twice<'b>(
    reader: &mut Reader<'_>,
    what: &str,
    labels: impl Iterator<Item = &'b At<String>> + Clone,
) {
    for (i, label) in labels.clone().enumerate() {
        if labels.clone().take(i).any(|earlier| earlier.value == label.value) {
            let message = format!("{what} `{}` is named twice", brief(&label.value));
            reader.error_at(label.at, message, None);
        }
    }
}
