//! The plan as one screen of text, 80 columns wide, without terminal codes.
//!
//! The same text lies beside each example build as its expected plan.

use comfy_table::{ColumnConstraint, ContentArrangement, Table, Width};
use physics::units::{Dimension, System, number, show, show_both};
use plan::Plan;
use plan::RunFacts;
use plan::design::duty::WINDOWS_S;
use plan::design::ends::{End, Side};
use plan::design::field::Levels;
use plan::design::plates::Plate;
use plan::design::protect::Protected;
use plan::design::settle::SizedRun;
use plan::finding::{Finding, Verdict};

use crate::wire;

/// Width of the screen.
pub(crate) const WIDTH: usize = 80;

/// Blanks between two columns.
const GAP: usize = 2;

/// How much is shown of what holds and what was assumed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// What needs attention.
    Short,
    /// Everything.
    All,
}

/// The plan as text; `file` is the document its findings point into.
pub(crate) fn plan(plan: &Plan, file: &str, extent: Extent) -> String {
    let mut parts = vec![head(plan)];
    parts.extend(runs(plan));
    parts.extend(duty(plan));
    parts.extend(ends(plan));
    parts.extend(plates(plan));
    parts.push(rest(plan));
    parts.extend(field(plan));
    parts.extend(findings(plan, file, extent));
    parts.extend(assumed(plan, extent));
    parts.join("\n")
}

/// A table without lines, as wide as the screen at most. The first column is the last to be broken.
pub(crate) fn table(head: &[&str], rows: Vec<Vec<String>>) -> String {
    let first = rows
        .iter()
        .filter_map(|row| row.first())
        .flat_map(|cell| cell.lines())
        .chain(head.first().copied())
        .map(|line| line.chars().count() + GAP)
        .max()
        .unwrap_or(0);
    let narrow = |n: usize| u16::try_from(n).expect("a screen is narrow");
    let mut table = Table::new();
    table
        .load_style(comfy_table::presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(narrow(WIDTH))
        .set_header(head.to_vec());
    for row in rows {
        table.add_row(row);
    }
    for column in table.column_iter_mut() {
        column.set_padding((0, narrow(GAP)));
    }
    if let Some(column) = table.column_mut(0) {
        let least = narrow(first.min(WIDTH / 3 + GAP));
        column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(least)));
    }
    // Cells are padded; nothing is gained by blanks at the end of a line.
    table.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

fn head(plan: &Plan) -> String {
    let mut text = wrap(&plan.heading.title, 0);
    let count = |verdict| plan.findings.iter().filter(|f| f.verdict == verdict).count();
    let counts: Vec<String> = [
        (Verdict::Fails, "fails", "fail"),
        (Verdict::Unknown, "is unknown", "are unknown"),
        (Verdict::Close, "is close", "are close"),
        (Verdict::Holds, "holds", "hold"),
    ]
    .into_iter()
    .map(|(verdict, one, many)| (count(verdict), one, many))
    .filter(|(n, ..)| 0 < *n)
    .map(|(n, one, many)| format!("{n} {}", if n == 1 { one } else { many }))
    .collect();
    let verdict = if plan.for_building() { "" } else { "Not for building: " };
    let counts =
        if counts.is_empty() { "nothing was judged".to_owned() } else { counts.join(", ") };
    text.push_str(&wrap(&format!("{verdict}{counts}"), 0));
    text
}

/// A quantity in the two systems, the build's first.
fn pair(plan: &Plan, value: Option<f64>, dimension: Dimension) -> [String; 2] {
    let systems = match plan.heading.units {
        System::Metric => [System::Metric, System::Us],
        System::Us => [System::Us, System::Metric],
    };
    let Some(value) = value else { return ["unknown".to_owned(), String::new()] };
    let [first, second] = systems.map(|s| show(value, dimension, s));
    if first == second { [first, String::new()] } else { [first, second] }
}

/// One cell of two lines.
fn cell(lines: [String; 2]) -> String {
    lines.join("\n").trim_end().to_owned()
}

fn runs(plan: &Plan) -> Option<String> {
    if plan.runs.is_empty() {
        return None;
    }
    let rows = plan.runs.iter().map(|facts| run(plan, facts)).collect();
    let head = ["RUN", "CABLES", "CUT EACH", "STEADY", "PEAK", "DROP", "LOSS"];
    Some(table(&head, rows))
}

fn run(plan: &Plan, facts: &RunFacts) -> Vec<String> {
    let sized = plan.sizes.iter().find(|s| s.run == facts.id);
    let cut = plan.cuts.iter().find(|c| c.run == facts.id).and_then(|c| c.cut_mm);
    let cable = sized.and_then(|s| s.cable.as_ref());
    let heat = sized.and_then(|s| s.heat.as_ref());
    let size = cable.map_or("unknown".to_owned(), |c| c.size.to_string());
    let family = cable.map_or(String::new(), |c| c.family.clone());
    let temperature = |c: Option<f64>| cell(pair(plan, c, Dimension::Temperature));
    vec![
        facts.id.clone(),
        cell([format!("{} x {size}", facts.cables.len()), family]),
        cell(pair(plan, cut, Dimension::Length)),
        match heat {
            Some(heat) if heat.conductor_c.is_none() => "runs away".to_owned(),
            _ => temperature(heat.and_then(|h| h.conductor_c)),
        },
        match heat.map(|h| (&h.peak, &h.driven)) {
            Some((None, None)) => "none".to_owned(),
            // Where the run is driven, its hottest moment is its peak.
            Some((None, Some(driven))) => temperature(Some(driven.hottest_c)),
            peak => temperature(peak.and_then(|(p, _)| p.as_ref()).map(|p| p.conductor_c)),
        },
        drop(plan, sized),
        sized
            .and_then(|s| s.loss_w)
            .map_or("unknown".to_owned(), |w| show(w, Dimension::Power, System::Metric)),
    ]
}

fn drop(plan: &Plan, sized: Option<&SizedRun>) -> String {
    let Some(drop) = sized.and_then(|s| s.drop_v) else { return "unknown".to_owned() };
    let part = plan.heading.voltage_v[0]
        .map_or(String::new(), |v| show(drop / v, Dimension::Ratio, System::Metric));
    cell([format!("{} V", number(drop, 2)), part])
}

/// What the duty puts through the runs that state no current.
fn duty(plan: &Plan) -> Option<String> {
    let rows: Vec<Vec<String>> = plan
        .sizes
        .iter()
        .filter_map(|sized| {
            let carried = sized.carried.as_ref()?;
            let amps = |a: f64| show(a, Dimension::Current, System::Metric);
            let mut row = vec![sized.run.clone()];
            // A motor known by its nameplate only gives a band.
            row.push(if carried.rms_a_least < 0.999 * carried.rms_a {
                format!("{} to {}", amps(carried.rms_a_least), amps(carried.rms_a))
            } else {
                amps(carried.rms_a)
            });
            row.extend(WINDOWS_S.iter().map(|seconds| {
                carried
                    .window(*seconds)
                    .map_or(String::new(), |w| cell([amps(w.rms_a), w.stretch.clone()]))
            }));
            let driven = sized.heat.as_ref().and_then(|h| h.driven.as_ref());
            row.push(driven.map_or("unknown".to_owned(), |d| d.stretch.clone()));
            Some(row)
        })
        .collect();
    let head = ["RUN", "RMS", "10 s", "60 s", "10 min", "1 h", "HOTTEST IN"];
    (!rows.is_empty()).then(|| table(&head, rows))
}

/// The magnetic field at the points named, in shares of the published levels.
fn field(plan: &Plan) -> Option<String> {
    let ut = |ut: f64| show(ut, Dimension::FluxDensity, System::Metric);
    let share = |of: f64| show(of, Dimension::Ratio, System::Metric);
    let rows: Vec<Vec<String>> = plan
        .field
        .iter()
        .map(|point| {
            // What is not known could only add.
            let more = if point.is_known() { "" } else { "over " };
            vec![
                point.name.clone(),
                format!("{more}{}", ut(point.alternating_ut(Levels::Guideline))),
                format!("{more}{}", ut(point.standing_ut())),
                format!("{more}{}", share(point.share(Levels::Guideline))),
                format!("{more}{}", share(point.share(Levels::Recommendation))),
                format!("{more}{}", share(point.implants())),
            ]
        })
        .collect();
    let head = ["FIELD AT", "ALTERNATING", "STANDING", "ICNIRP", "1999/519/EC", "IMPLANTS"];
    (!rows.is_empty()).then(|| table(&head, rows))
}

/// Ends that are alike share a row.
fn ends(plan: &Plan) -> Option<String> {
    let mut groups: Vec<(&End, Vec<&str>)> = Vec::new();
    for end in &plan.ends {
        match groups.iter_mut().find(|(first, _)| alike(first, end)) {
            Some((_, terminals)) => terminals.push(&end.terminal),
            None => groups.push((end, vec![&end.terminal])),
        }
    }
    if groups.is_empty() {
        return None;
    }
    let rows = groups.iter().map(|(end, terminals)| end_row(plan, end, terminals)).collect();
    let mut text = table(&["END", "LUG, DIE", "SLEEVE", "GRIP", "BOLT", "TORQUE"], rows);
    let ends: Vec<&End> = groups.iter().map(|(end, _)| *end).collect();
    text.push_str(&reasons(&ends));
    Some(text)
}

/// Why the torques are what they are: "torque: stated by the terminal's maker at motor.phases, inverter.dc".
fn reasons(ends: &[&End]) -> String {
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for end in ends {
        let Some(torque) = &end.torque else { continue };
        let port = end.port.as_str();
        match reasons.iter_mut().find(|(by, _)| *by == torque.governed_by) {
            Some((_, ports)) if ports.contains(&port) => {}
            Some((_, ports)) => ports.push(port),
            None => reasons.push((&torque.governed_by, vec![port])),
        }
    }
    if reasons.is_empty() {
        return String::new();
    }
    let parts = reasons.iter().map(|(by, ports)| format!("{by} at {}", ports.join(", ")));
    wrap(&format!("torque: {}", parts.collect::<Vec<_>>().join("; ")), 8)
}

fn alike(a: &End, b: &End) -> bool {
    let strip = |e: &End| End { cable: String::new(), terminal: String::new(), ..e.clone() };
    strip(a) == strip(b)
}

fn end_row(plan: &Plan, end: &End, terminals: &[&str]) -> Vec<String> {
    let unknown = || "unknown".to_owned();
    let side = match end.side {
        Side::From => "from",
        Side::To => "to",
    };
    let die = end.crimp.as_ref().map_or(String::new(), |c| format!("die {}", c.die));
    let plated = plan.plates.iter().any(|p| p.port == end.port);
    let grip = match &end.grip {
        Some(grip) => grip.thread.clone(),
        None if plated => unknown(),
        None => "none".to_owned(),
    };
    let bolt = end.stack.as_ref().map_or_else(unknown, |s| {
        let washer =
            s.washer.as_ref().map_or(String::new(), |w| format!(", {} washer", w.form));
        format!("{} {}{washer}", wire::stack_name(s), s.class.row.id)
    });
    vec![
        format!("{} {side}\n{} {}", end.run, end.port, terminals.join(" ")),
        cell([end.lug.as_ref().map_or_else(unknown, |l| l.row.id.clone()), die]),
        end.sleeve.as_ref().map_or_else(unknown, |s| {
            let length = pair(plan, Some(s.length_mm), Dimension::Length);
            format!("{}\n{}", s.sleeve.row.id, length[0])
        }),
        grip,
        bolt,
        cell(pair(plan, end.torque.as_ref().map(|t| t.torque_nm), Dimension::Torque)),
    ]
}

fn plates(plan: &Plan) -> Option<String> {
    if plan.plates.is_empty() {
        return None;
    }
    let rows = plan.plates.iter().map(|p| plate_row(plan, p)).collect();
    Some(table(&["PLATE", "GRIPS", "O-RING", "BOLTS", "TORQUE"], rows))
}

fn plate_row(plan: &Plan, plate: &Plate) -> Vec<String> {
    let unknown = || "unknown".to_owned();
    let bolts = plate.bolts.as_ref();
    let thickness = pair(plan, plate.thickness_mm, Dimension::Length)[0].clone();
    let material = plate.material.as_ref().map_or_else(unknown, |m| m.row.id.clone());
    let hole = plate.grip_hole.as_deref().unwrap_or("unknown");
    vec![
        format!("{}\n{thickness} {material}", plate.port),
        cell([format!("{} x", plate.grips.len()), hole.to_owned()]),
        plate.seal.as_ref().map_or_else(unknown, |s| {
            let squeeze = show(s.squeeze[1], Dimension::Ratio, System::Metric);
            format!("{}\n{squeeze} squeeze", s.oring.row.id)
        }),
        bolts.map_or_else(unknown, |b| {
            format!("{} x {} {}", b.count, wire::stack_name(&b.stack), b.stack.class.row.id)
        }),
        cell(pair(
            plan,
            bolts.and_then(|b| b.torque.as_ref()).map(|t| t.torque_nm),
            Dimension::Torque,
        )),
    ]
}

/// Fuse, cost and mass in a line each.
fn rest(plan: &Plan) -> String {
    let mut text = String::new();
    if let Some(protection) = &plan.protection {
        let fuse = protection.fuse.as_ref().map_or("unknown", |f| f.row.id.as_str());
        let carries = protection.fuse_carries_a.map_or(String::new(), |a| {
            format!(", carries {} there", show(a, Dimension::Current, System::Metric))
        });
        let fault = protection.fault.as_ref().map_or(String::new(), |f| {
            format!(", fault {}", show(f.prospective_a, Dimension::Current, System::Metric))
        });
        let guard = protection.coordination.as_ref().and_then(|c| c.guard.as_ref());
        let guards = guard.and_then(|g| g.from_a).map_or(String::new(), |a| {
            format!(", protects the cable from {}", show(a, Dimension::Current, System::Metric))
        });
        text.push_str(&wrap(&format!("Fuse: {fuse}{carries}{fault}{guards}"), 6));
        text.push_str(&switched(protection));
    }
    text.push_str(&money(plan));
    text
}

/// Contactor and branches in a line each, where there are any.
fn switched(protection: &Protected) -> String {
    let amperes = |a: f64| show(a, Dimension::Current, System::Metric);
    let mut text = String::new();
    let asked = &protection.contactor_asked;
    let name = protection.contactor.as_ref().map(|c| c.row.id.as_str());
    if name.is_some() || asked.breaks_a.is_some() {
        let of = |what: &str, asked: Option<f64>, gives: Option<f64>| match (asked, gives) {
            (Some(a), Some(g)) => format!(", {what} {} of {}", amperes(a), amperes(g)),
            (Some(a), None) => format!(", {what} {}", amperes(a)),
            (None, _) => String::new(),
        };
        let part = protection.contactor.as_ref();
        let breaks = of("opens against", asked.breaks_a, part.map(|c| c.breaks_a));
        let closes = of("closes on", asked.closes_a, part.map(|c| c.makes_a));
        let name = name.unwrap_or("unknown");
        text.push_str(&wrap(&format!("Contactor: {name}{breaks}{closes}"), 6));
    }
    for branch in &protection.branches {
        let fuse = branch.fuse.as_ref().map_or("unknown", |f| f.row.id.as_str());
        let carries = branch
            .fuse_carries_a
            .map_or(String::new(), |a| format!(", carries {} there", amperes(a)));
        text.push_str(&wrap(&format!("Branch {}: {fuse}{carries}", branch.name), 6));
    }
    text
}

/// Cost and mass of the kit in a line each.
pub(crate) fn money(plan: &Plan) -> String {
    let mut text = String::new();
    let kit = &plan.kit;
    let items = kit.items.len();
    let priced = items - kit.unpriced.min(items);
    let currency = plan.heading.currency.as_deref().unwrap_or("(no currency given)");
    let cost = match (priced, kit.unpriced) {
        (0, _) => "unknown, no part has a price".to_owned(),
        (_, 0) => format!("{} {currency}", number(kit.cost, 2)),
        (_, n) => format!("{} {currency} and {n} parts without a price", number(kit.cost, 2)),
    };
    text.push_str(&wrap(&format!("Cost: {cost}"), 6));
    let mass = show_both(kit.mass_kg, Dimension::Mass, plan.heading.units);
    text.push_str(&wrap(&format!("Mass: {mass}"), 6));
    text
}

fn findings(plan: &Plan, file: &str, extent: Extent) -> Vec<String> {
    let shown = |f: &&Finding| f.verdict != Verdict::Holds || extent == Extent::All;
    let mut texts: Vec<String> = plan
        .findings
        .iter()
        .filter(shown)
        .map(|f| finding(f, file, plan.heading.units))
        .collect();
    let holds = plan.findings.iter().filter(|f| f.verdict == Verdict::Holds).count();
    if extent == Extent::Short && 0 < holds {
        let what = if holds == 1 { "check holds" } else { "checks hold" };
        texts.push(format!("{holds} {what}; --all shows them\n"));
    }
    texts
}

/// A finding in full: what, where, value and limit, what to do.
pub(crate) fn finding(finding: &Finding, file: &str, units: System) -> String {
    let at = finding.at;
    let place =
        if 0 < at.line { format!("  {file}:{}:{}", at.line, at.column) } else { String::new() };
    let mut text = format!("{:8}{}{place}\n", finding.verdict.word(), finding.code);
    text.push_str(&wrap(&format!("        {}", finding.message), 8));
    let numbers: Vec<String> = [("value", finding.value), ("limit", finding.limit)]
        .into_iter()
        .filter_map(|(word, q)| q.map(|q| format!("{word} {}", q.text(units))))
        .collect();
    if !numbers.is_empty() {
        text.push_str(&wrap(&format!("        {}", numbers.join(", ")), 8));
    }
    if let Some(hint) = &finding.hint {
        text.push_str(&wrap(&format!("        hint: {hint}"), 14));
    }
    text
}

fn assumed(plan: &Plan, extent: Extent) -> Option<String> {
    if plan.assumed.is_empty() {
        return None;
    }
    if extent == Extent::Short {
        let n = plan.assumed.len();
        let what = if n == 1 { "value is" } else { "values are" };
        return Some(format!("{n} {what} assumed; --all lists them\n"));
    }
    let mut text = "Assumed\n".to_owned();
    for a in &plan.assumed {
        text.push_str(&wrap(
            &format!("        {}: {}, {} ({})", a.what, a.value, a.why, a.key),
            8,
        ));
    }
    Some(text)
}

/// Breaks a text at blanks; later lines are set in by `indent`.
pub(crate) fn wrap(text: &str, indent: usize) -> String {
    let lead: String = text.chars().take_while(|c| *c == ' ').collect();
    let mut line = lead;
    let mut whole = String::new();
    let mut empty = true;
    for word in text.split_whitespace() {
        let width = line.chars().count() + word.chars().count() + usize::from(!empty);
        if WIDTH < width && !empty {
            whole.push_str(&line);
            whole.push('\n');
            line = " ".repeat(indent);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    whole.push_str(&line);
    whole.push('\n');
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_at_blanks() {
        let text = wrap(&format!("  {}", "word ".repeat(40)), 4);
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH));
        assert!(
            text.starts_with("  word") && text.lines().nth(1).unwrap().starts_with("    word")
        );
        assert_eq!(wrap("", 0), "\n");
    }

    #[test]
    fn a_table_is_no_wider_than_the_screen() {
        let row = vec!["a".repeat(30), "b c ".repeat(30), "d".repeat(50)];
        let text = table(&["ONE", "TWO", "THREE"], vec![row]);
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
    }
}
