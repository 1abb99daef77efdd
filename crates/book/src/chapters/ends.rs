//! One page for each kind of end: the section to scale, the parts, the torque and why it is that one.

use physics::units::Dimension;
use plan::design::ends::{End, Stack, TorqueChoice};
use plan::given::build::Palm;

use crate::model::{Cell, Pages, Tone, narrow, row, wide};
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
            "Section through one end.",
            "Section through the end: terminal, lug, bolt, sleeve, cable, grip and plate",
        ),
        None => pages.text("The end is drawn once its lug and cable are settled."),
    }
    pages.table(vec![narrow("Part"), wide("", 2.2), wide("", 2.0)], parts(words, end), "");
    early(words, end, pages);
    if let Some(torque) = &end.torque {
        limits(words, torque, pages);
    }
}

fn parts(words: &Words<'_>, end: &End) -> Vec<crate::model::Row> {
    let length = |mm: f64| words.length(mm);
    let bore = |name: &str, mm: f64| format!("{name} {}", length(mm));
    let mut rows = Vec::new();
    let mut put = |part: &str, what: Cell, how: Cell| {
        rows.push(row([Cell::new(part, Tone::Strong), what, how]));
    };
    let named = |name: Option<&str>| name.map_or_else(Cell::unknown, Cell::from);
    put(
        "Lug",
        named(end.lug.as_ref().map(|l| l.row.name.as_str())),
        match &end.lug {
            Some(lug) => Cell::from(bore("hole", lug.hole_mm))
                .under(bore("barrel inside", lug.barrel_inside_mm))
                .under(match end.palm {
                    Palm::Straight => "palm straight",
                    Palm::Bent => "palm bent at a right angle",
                }),
            None => "".into(),
        },
    );
    put(
        "Crimp",
        named(end.crimp.as_ref().map(|c| c.die.as_str())),
        end.crimp.as_ref().map_or_else(
            || "".into(),
            |c| Cell::from(format!("{}, presses along the barrel: {}", c.form, c.presses)),
        ),
    );
    put(
        "Strip",
        words.maybe(end.strip_mm, Dimension::Length),
        "bare conductor that fills the barrel".into(),
    );
    put(
        "Sleeve",
        named(end.sleeve.as_ref().map(|s| s.sleeve.row.name.as_str())),
        end.sleeve.as_ref().map_or_else(
            || "".into(),
            |s| {
                Cell::from(bore("cut", s.length_mm))
                    .under(bore("after shrinking", s.shrunk_mm))
                    .under(bore("has to cover", s.cover_mm))
            },
        ),
    );
    if let Some(grip) = &end.grip {
        put(
            "Grip",
            grip.row.name.as_str().into(),
            Cell::from(format!(
                "clamps {} to {}",
                length(grip.clamp_mm_min),
                length(grip.clamp_mm_max)
            ))
            .under(Cell::new(format!("torque {}", words.torque(grip.torque_nm)), Tone::Strong))
            .under(bore("spanner", grip.flats_mm)),
        );
    }
    fastening(words, end, &mut put);
    rows
}

fn fastening(words: &Words<'_>, end: &End, put: &mut impl FnMut(&str, Cell, Cell)) {
    let length = |mm: f64| words.length(mm);
    if let Some(stack) = &end.stack {
        let word = if stack.bolt.is_some() { "Bolt" } else { "Nut on stud" };
        put(
            word,
            fastener(stack).into(),
            Cell::from(format!("class {}", stack.class.row.id))
                .under(spanner(words, stack))
                .under(format!("clamps {}", length(stack.clamped_mm))),
        );
        put(
            "Washer",
            match &stack.washer {
                Some(washer) => washer.row.name.as_str().into(),
                None => Cell::new("none", Tone::Quiet),
            },
            "".into(),
        );
        put(
            "Engagement",
            Cell::from(length(stack.engagement_mm))
                .under(format!("needed {}", length(stack.engagement_mm_min))),
            Cell::from(format!("thread left under the tip {}", length(stack.left_mm)))
                .under(format!("full thread {}", length(stack.thread_depth_mm))),
        );
    } else {
        put("Bolt", Cell::unknown(), "".into());
    }
    let preload = end
        .torque
        .as_ref()
        .map(|t| Cell::from(format!("preload {}", words.both(t.preload_n, Dimension::Force))));
    put("Torque", words.chosen(end.torque.as_ref()), preload.unwrap_or_else(|| "".into()));
}

/// What holds a lug or plate: "M8 x 16 hex".
pub(crate) fn fastener(stack: &Stack) -> String {
    match (&stack.bolt, &stack.nut) {
        (Some(bolt), _) => format!("{} x {:.0}", bolt.row.id, stack.length_mm),
        (None, Some(nut)) => format!("nut {}", nut.row.id),
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
    format!("spanner or key {}", words.length(flats))
}

fn early(words: &Words<'_>, end: &End, pages: &mut Pages) {
    pages.minor("On the cable before the lug is crimped, in this order");
    let rows = end.before_lug.iter().enumerate().map(|(i, early)| {
        let passes = if early.opening_mm > early.lug_mm {
            Cell::new("would pass over the lug", Tone::Quiet)
        } else {
            Cell::new("cannot go on afterwards", Tone::Fails)
        };
        row([
            format!("{}", i + 1).into(),
            Cell::new(early.what.as_str(), Tone::Strong),
            format!("opening {}", words.length(early.opening_mm)).into(),
            format!("lug {}", words.length(early.lug_mm)).into(),
            passes,
        ])
    });
    let rows = rows.collect();
    pages.table(
        vec![
            narrow(""),
            wide("Part", 1.4),
            wide("Opening", 1.0),
            wide("Widest of lug", 1.0),
            narrow(""),
        ],
        rows,
        "Nothing has to go on first",
    );
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
