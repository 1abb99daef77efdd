//! One page for each kind of end: the section to scale, the parts, the torque and why it is that one.

use physics::units::Dimension;
use plan::design::ends::{End, Stack, TorqueChoice};
use plan::given::build::Palm;

use crate::model::{Cell, Pages, Row, Tone, narrow, row, wide};
use crate::words::{Words, side};

/// Ends that differ only in cable and terminal share a page.
pub(crate) fn write(words: &Words<'_>, pages: &mut Pages) {
    let mut kinds: Vec<Vec<&End>> = Vec::new();
    for end in &words.plan.ends {
        match kinds.iter_mut().find(|kind| alike(kind[0], end)) {
            Some(kind) => kind.push(end),
            None => kinds.push(vec![end]),
        }
    }
    if kinds.is_empty() {
        pages.text("No end could be settled.");
    }
    for (i, kind) in kinds.iter().enumerate() {
        let end = kind[0];
        let title = format!("{}: {}", words.port(&end.port), cables(kind));
        if i == 0 {
            pages.heading(&title)
        } else {
            pages.page(&title)
        }
        one(words, kind, pages);
    }
}

fn alike(a: &End, b: &End) -> bool {
    let renamed = End { cable: b.cable.clone(), terminal: b.terminal.clone(), ..a.clone() };
    renamed == *b
}

fn cables(kind: &[&End]) -> String {
    let labels: Vec<&str> = kind.iter().map(|e| e.terminal.as_str()).collect();
    match labels.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => labels.concat(),
    }
}

fn one(words: &Words<'_>, kind: &[&End], pages: &mut Pages) {
    let end = kind[0];
    pages.quiet(&format!("Run {}, {}; {} alike.", end.run, side(end.side), kind.len()));
    match draw::sheets::end(words.plan, end) {
        Some(drawing) => pages.figure(
            drawing,
            "",
            "Section through the end: terminal, lug, bolt, sleeve, cable, grip and plate",
        ),
        None => pages.text("The end is drawn once its lug and cable are settled."),
    }
    let mut rows = Vec::new();
    early(words, end, &mut rows);
    on_cable(words, end, &mut rows);
    fastening(words, end, &mut rows);
    let columns = vec![narrow("Part"), wide("Which", 1.3), wide("How", 2.0)];
    pages.table(columns, rows, "");
    if let Some(torque) = &end.torque {
        limits(words, torque, pages);
    }
}

fn part(rows: &mut Vec<Row>, name: &str, which: Cell, how: impl Into<Cell>) {
    rows.push(row([Cell::new(name, Tone::Strong), which, how.into()]));
}

fn named(name: Option<&str>) -> Cell {
    name.map_or_else(Cell::unknown, Cell::from)
}

/// What must be on the cable before the lug is crimped, in the order it goes on.
fn early(words: &Words<'_>, end: &End, rows: &mut Vec<Row>) {
    for (i, early) in end.before_lug.iter().enumerate() {
        let sizes = format!(
            "its opening {}, the lug {}",
            words.length(early.opening_mm),
            words.length(early.lug_mm)
        );
        let passes = if early.opening_mm > early.lug_mm {
            Cell::new("would pass over the lug", Tone::Quiet)
        } else {
            Cell::new("cannot go on after the lug", Tone::Fails)
        };
        let name = if i == 0 { "Goes on first" } else { "then" };
        part(rows, name, early.what.as_str().into(), passes.under(Cell::from(sizes)));
    }
}

fn on_cable(words: &Words<'_>, end: &End, rows: &mut Vec<Row>) {
    let length = |mm: f64| words.length(mm);
    let lug = end.lug.as_ref();
    let palm = match end.palm {
        Palm::Straight => "palm straight",
        Palm::Bent => "palm bent at a right angle",
    };
    let how = lug.map(|lug| {
        let (hole, barrel) = (length(lug.hole_mm), length(lug.barrel_inside_mm));
        format!("{palm}; hole {hole}; barrel inside {barrel}")
    });
    part(rows, "Lug", named(lug.map(|l| l.row.name.as_str())), how.unwrap_or_default());
    let crimp = end.crimp.as_ref();
    let die = crimp.map_or_else(Cell::unknown, |c| format!("die {}", c.die).into());
    let how = crimp.map(|c| format!("{}; presses along the barrel: {}", c.form, c.presses));
    part(rows, "Crimp", die, how.unwrap_or_default());
    let strip = words.maybe(end.strip_mm, Dimension::Length);
    part(rows, "Strip", strip, "bare conductor that fills the barrel");
    let sleeve = end.sleeve.as_ref();
    let how = sleeve.map(|s| {
        Cell::new(format!("cut {}", length(s.length_mm)), Tone::Strong).under(format!(
            "after shrinking {}; has to cover {}",
            length(s.shrunk_mm),
            length(s.cover_mm)
        ))
    });
    let which = named(sleeve.map(|s| s.sleeve.row.name.as_str()));
    part(rows, "Sleeve", which, how.unwrap_or_else(|| "".into()));
    if let Some(grip) = &end.grip {
        let clamps = format!(
            "clamps {} to {}; spanner {}",
            length(grip.clamp_mm_min),
            length(grip.clamp_mm_max),
            words.flats(grip.flats_mm)
        );
        let how = Cell::new(format!("torque {}", words.torque(grip.torque_nm)), Tone::Strong)
            .under(clamps);
        part(rows, "Grip", grip.row.name.as_str().into(), how);
    }
}

fn fastening(words: &Words<'_>, end: &End, rows: &mut Vec<Row>) {
    let length = |mm: f64| words.length(mm);
    let Some(stack) = &end.stack else {
        part(rows, "Bolt", Cell::unknown(), "");
        return;
    };
    let washer = match &stack.washer {
        Some(washer) => format!("on a {}", washer.row.name),
        None => "no washer".to_owned(),
    };
    let name = if stack.bolt.is_some() { "Bolt" } else { "Nut on stud" };
    let how = format!(
        "class {}; {}; {washer}; clamps {}",
        stack.class.row.id,
        spanner(words, stack),
        length(stack.clamped_mm)
    );
    part(rows, name, fastener(stack).into(), how);
    let (depth, left) = if stack.bolt.is_some() {
        ("full thread", "left under the tip")
    } else {
        ("stud", "beyond the nut")
    };
    let needed = format!(
        "needed {}; {depth} {}; {left} {}",
        length(stack.engagement_mm_min),
        length(stack.thread_depth_mm),
        length(stack.left_mm)
    );
    part(rows, "Engagement", length(stack.engagement_mm).into(), needed);
    let torque = end.torque.as_ref();
    let how = torque.map(|t| {
        let preload = words.both(t.preload_n, Dimension::Force);
        format!("set by: {}; preload {preload}", t.governed_by)
    });
    let which = torque
        .map_or_else(Cell::unknown, |t| Cell::new(words.torque(t.torque_nm), Tone::Strong));
    part(rows, "Torque", which, how.unwrap_or_default());
}

/// What holds a lug or plate: "M8 x 16 hex".
pub(crate) fn fastener(stack: &Stack) -> String {
    match (&stack.bolt, &stack.nut) {
        (Some(bolt), _) => format!("{} x {:.0}, {}", bolt.thread, stack.length_mm, bolt.form),
        (None, Some(nut)) => format!("nut {}, {}", nut.thread, nut.form),
        (None, None) => "not settled".to_owned(),
    }
}

/// The spanner for it.
pub(crate) fn spanner(words: &Words<'_>, stack: &Stack) -> String {
    let flats = match (&stack.bolt, &stack.nut) {
        (Some(bolt), _) => bolt.flats_mm,
        (None, Some(nut)) => nut.flats_mm,
        (None, None) => return String::new(),
    };
    format!("spanner or key {}", words.flats(flats))
}

/// Why the torque is what it is.
pub(crate) fn limits(words: &Words<'_>, torque: &TorqueChoice, pages: &mut Pages) {
    if torque.limits.is_empty() {
        return;
    }
    pages.minor("What limits the torque");
    let rows = torque.limits.iter().map(|limit| {
        let governs = if limit.what == torque.governed_by { "governs" } else { "" };
        row([
            limit.what.as_str().into(),
            words.torque(limit.torque_nm).into(),
            Cell::new(governs, Tone::Strong),
            Cell::new(limit.source, Tone::Code),
        ])
    });
    let rows = rows.collect();
    let columns =
        vec![wide("Limit", 1.4), wide("At most", 1.0), narrow(""), wide("Source", 1.4)];
    pages.table(columns, rows, "");
}
