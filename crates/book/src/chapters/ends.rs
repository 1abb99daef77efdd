//! One page for each kind of end: the section to scale, the parts, the torque and why it is that one.

use physics::units::Dimension;
use plan::design::ends::{End, ScreenEnd, Stack, Tongue, TorqueChoice};
use plan::design::preload::Kept;
use plan::given::build::{Palm, Screen};

use crate::model::{Cell, Pages, Row, Tone, narrow, row, wide};
use crate::words::{Words, governed, side};

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
    service(words, end, &mut rows);
    let columns = vec![narrow("Part"), wide("Which", 1.0), wide("How", 2.4)];
    pages.table(columns, rows, "");
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
    if let Some(tongue) = &end.bend {
        bend(words, tongue, rows);
    }
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
    if let Some(landed) = &end.screen {
        screen(words, landed, rows);
    }
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
        Cell::from(format!("{}; preload {preload}", governed(&t.governed_by)))
            .under(others(words, t))
    });
    let which = torque
        .map_or_else(Cell::unknown, |t| Cell::new(words.torque(t.torque_nm), Tone::Strong));
    part(rows, "Torque", which, how.unwrap_or_else(|| "".into()));
}

/// What else would allow how much; the workings have each with its source.
fn others(words: &Words<'_>, torque: &TorqueChoice) -> String {
    let others = torque.limits.iter().filter(|l| l.what != torque.governed_by);
    let others: Vec<String> =
        others.map(|l| format!("{} {}", l.what, words.torque(l.torque_nm))).collect();
    if others.is_empty() {
        String::new()
    } else {
        format!("would allow: {}", others.join("; "))
    }
}

/// What the joint keeps and how warm it becomes.
fn service(words: &Words<'_>, end: &End, rows: &mut Vec<Row>) {
    if let Some(kept) = &end.kept {
        let (which, how) = preload(words, kept);
        part(rows, "Preload kept", which, how);
    }
    if let Some(warm) = &end.warm {
        let which = Cell::new(words.both(warm.lug_c, Dimension::Temperature), Tone::Strong);
        let how = format!(
            "steady, {} over the cable's middle; the joint at its worst allowed {}, {}",
            words.both(warm.rise_k, Dimension::Rise),
            words.both(warm.joint_ohm, Dimension::Resistance),
            words.both(warm.loss_w, Dimension::Power)
        );
        part(rows, "Lug when hot", which, how);
    }
}

/// What is left of the bolt's preload: the least, and how it comes to that.
fn preload(words: &Words<'_>, kept: &Kept) -> (Cell, Cell) {
    let force = |n: f64| words.both(n, Dimension::Force);
    let [cold_c, hot_c] = kept.between_c.map(|c| {
        c.map_or(String::new(), |c| format!(" at {}", words.both(c, Dimension::Temperature)))
    });
    let hot = kept
        .hot_n
        .map_or_else(|| "hot not known".to_owned(), |hot| format!("hot {}{hot_c}", force(hot)));
    let which = Cell::new(format!("at least {}", force(kept.worst_n())), Tone::Strong)
        .under(format!("the contact wants {}", force(kept.wanted_n)));
    let how = Cell::from(format!(
        "assembled {}; least of the wrench's scatter {}; settled {}",
        force(kept.middle_n),
        force(kept.least_n),
        force(kept.settled_n)
    ))
    .under(format!("cold {}{cold_c}; {hot}", force(kept.cold_n)))
    .under(format!("at most, unsettled and hot, {}", force(kept.most_n)));
    (which, how)
}

/// How the palm is bent.
fn bend(words: &Words<'_>, bend: &Tongue, rows: &mut Vec<Row>) {
    let length = |mm: f64| words.length(mm);
    let how = Cell::from(format!(
        "at least {}, or its outside tears; it stretches by {}",
        length(bend.radius_mm_min),
        words.one(bend.strain, Dimension::Ratio)
    ))
    .under(format!(
        "begins {} from the hole's centre, where {} must stay flat; barrel's mouth {} above the landing",
        length(bend.from_hole_mm),
        length(bend.flat_mm),
        length(bend.rise_mm)
    ));
    let which = Cell::from(format!("inside radius {}", length(bend.radius_mm)));
    part(rows, "Bend of the palm", which, how);
}

/// How the screen ends.
fn screen(words: &Words<'_>, screen: &ScreenEnd, rows: &mut Vec<Row>) {
    let length = |mm: f64| words.length(mm);
    let which = match screen.how {
        Some(Screen::GripContact) => "in the contact of the grip, all round".into(),
        Some(Screen::Pigtail) => match &screen.bolt {
            Some(bolt) => format!("gathered to a pigtail on {bolt}").into(),
            None => "gathered to a pigtail".into(),
        },
        Some(Screen::None) => "cut back and insulated".into(),
        None => Cell::unknown(),
    };
    let sheath = match screen.sheath_mm {
        Some(mm) => format!("sheath off {}", length(mm)),
        None => "sheath off: not known".to_owned(),
    };
    let mut how = Cell::from(format!("{sheath}; screen left {}", length(screen.screen_mm)));
    if let Some(core) = screen.core_mm {
        let least = length(screen.core_mm_min);
        how = how.under(format!("core left {}, the lug's sleeve needs {least}", length(core)));
    }
    if let Some(cover) = &screen.cover {
        how = how.under(format!(
            "over the cut edge: {}, cut {}",
            cover.sleeve.row.name,
            length(cover.length_mm)
        ));
    }
    part(rows, "Screen", which, how);
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
