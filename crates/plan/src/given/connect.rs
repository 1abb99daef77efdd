//! Names in the document that must lead somewhere in it, and keys that must agree.

use physics::units::{Dimension, System, show_both};

use super::build::{At, Build, Maybe, Port, Run};
use super::nearest::nearest;
use super::read::{Reader, brief, listed};

/// Notes every name that leads nowhere.
pub(super) fn check(reader: &mut Reader<'_>, build: &Build) {
    voltages(reader, build);
    for device in &build.devices {
        for port in &device.ports {
            twice(reader, "terminal", port.terminals.iter());
        }
    }
    for run in &build.runs {
        ends(reader, build, run);
        path(reader, run);
    }
    if let Some(run) = build.protection.as_ref().and_then(|p| p.run.as_ref()) {
        let ids: Vec<&str> = build.runs.iter().map(|r| r.id.value.as_str()).collect();
        named(reader, run, "run", &ids);
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

/// The port "device.port" of a build.
fn port<'b>(build: &'b Build, name: &str) -> Option<&'b Port> {
    let (device, port) = name.split_once('.')?;
    let device = build.devices.iter().find(|d| d.id.value == device)?;
    device.ports.iter().find(|p| p.id == port)
}

fn ends(reader: &mut Reader<'_>, build: &Build, run: &Run) {
    let names: Vec<String> = build
        .devices
        .iter()
        .flat_map(|d| d.ports.iter().map(|p| format!("{}.{}", d.id.value, p.id)))
        .collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    for end in [&run.from, &run.to].into_iter().flatten() {
        named(reader, end, "port", &names);
    }
    if let (Some(from), Some(to)) = (&run.from, &run.to)
        && from.value == to.value
    {
        let message = format!("the run ends at the port it starts at, `{}`", brief(&to.value));
        reader.error_at(to.at, message, None);
    }
    let labels = |end: &Maybe<String>| {
        end.as_ref().and_then(|e| port(build, &e.value)).map(|p| p.terminals.clone())
    };
    if let Some(from) = labels(&run.from) {
        for label in run.cables.iter().map(|c| &c.0).chain(run.lengths_mm.iter().map(|l| &l.0))
        {
            terminal(reader, label, &from, &run.from);
        }
    }
    if let Some(to) = labels(&run.to) {
        for (_, label) in &run.cables {
            terminal(reader, label, &to, &run.to);
        }
    }
    twice(reader, "terminal", run.cables.iter().map(|(_, to)| to));
}

fn terminal(
    reader: &mut Reader<'_>,
    label: &At<String>,
    terminals: &[At<String>],
    port: &Maybe<String>,
) {
    // A port without terminals is unknown, not wrong: a finding asks for them.
    if terminals.is_empty() || terminals.iter().any(|t| t.value == label.value) {
        return;
    }
    let port = port.as_ref().map_or("", |p| p.value.as_str());
    let message = format!("port `{port}` has no terminal `{}`", brief(&label.value));
    let known: Vec<&str> = terminals.iter().map(|t| t.value.as_str()).collect();
    reader.error_at(label.at, message, Some(format!("its terminals are {}", listed(&known))));
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

fn path(reader: &mut Reader<'_>, run: &Run) {
    if let (Some(_), Some(legs)) = (&run.length_mm, &run.legs_mm) {
        let message = "a run has a `length` or `legs`, not both".to_owned();
        reader.error_at(legs.at, message, None);
    }
    match (&run.legs_mm, &run.corners_deg) {
        (Some(legs), Some(corners)) if corners.value.len() + 1 != legs.value.len() => {
            let message = format!(
                "{} legs have {} corners between them, but {} are given",
                legs.value.len(),
                legs.value.len().saturating_sub(1),
                corners.value.len()
            );
            reader.error_at(corners.at, message, None);
        }
        (None, Some(corners)) => {
            let message = "corners lie between `legs`, and there are none".to_owned();
            let hint = "give `legs`, or only a `length`".to_owned();
            reader.error_at(corners.at, message, Some(hint));
        }
        _ => {}
    }
}
