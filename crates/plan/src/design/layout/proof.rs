//! The distances of a finished part, and what would cure those that are too short.

use physics::units::{Dimension, show_both};
use space::part::FlatPart;
use space::path::Path;
use space::segment::{Point, apart_mm};

use super::grips::{self, Placed, bolt_mm, pair_mm};
use super::groove::{self, Search};
use super::{
    EDGE_HOLES, GRIP_TURNS, GripWanted, LIP_MM, Laid, LaidSeal, PLAY_MM, Proof, Rule, SLACK_MM,
    WALL_MM, Wanted, drilled_mm, fit_mm, point, stock_mm, unsure_mm,
};

/// Every distance of the part.
pub(super) fn measure(
    wanted: &Wanted<'_>,
    opening: &Path,
    placed: &Placed,
    part: &FlatPart,
    seal: Option<&LaidSeal>,
    search: &Search,
) -> Vec<Proof> {
    let mut proofs = bolts(wanted, part);
    proofs.extend(groove_proofs(wanted, opening, part, seal, search));
    proofs.extend(grip_room(wanted, placed));
    proofs.extend(grip_walls(wanted, opening, &placed.at, part));
    for (what, least_mm) in thickness_needs(wanted, seal) {
        proofs.push(Proof {
            rule: Rule::Thickness,
            what,
            value_mm: part.thickness_mm,
            least_mm,
        });
    }
    for grip in wanted.grips.iter().filter(|g| g.tapped.is_none()) {
        proofs.push(Proof {
            rule: Rule::Thickness,
            what: format!("thread of grip {} behind the plate, for its locknut", grip.terminal),
            value_mm: grip.thread_length_mm - part.thickness_mm,
            least_mm: GRIP_TURNS * grip.pitch_mm,
        });
    }
    proofs
}

/// Holes against the housing's, and against the plate's edge.
fn bolts(wanted: &Wanted<'_>, part: &FlatPart) -> Vec<Proof> {
    let mut proofs = Vec::new();
    for hole in &wanted.face.holes {
        let Some(cut) = part.holes.iter().find(|h| h.name == hole.name) else { continue };
        let name = &hole.name;
        let at = [cut.x_mm, cut.y_mm];
        let play_mm = (cut.diameter_mm - wanted.bolt.diameter_mm) / 2.0;
        proofs.push(Proof {
            rule: Rule::Fit,
            what: format!("play around bolt {name}"),
            value_mm: play_mm - apart_mm(at, point(hole)),
            least_mm: fit_mm(hole),
        });
        let depth_mm = part.outline.depth_mm(at);
        proofs.push(Proof {
            rule: Rule::EdgeDistance,
            what: format!("centre of bolt {name} to the plate's edge"),
            value_mm: depth_mm,
            least_mm: EDGE_HOLES * cut.diameter_mm,
        });
        let over = cut
            .counterbore
            .map_or(wanted.bolt.head_mm, |c| c.diameter_mm.max(wanted.bolt.head_mm));
        proofs.push(Proof {
            rule: Rule::EdgeDistance,
            what: format!("head of bolt {name} to the plate's edge"),
            value_mm: depth_mm - over / 2.0,
            least_mm: 0.0,
        });
    }
    proofs
}

fn groove_proofs(
    wanted: &Wanted<'_>,
    opening: &Path,
    part: &FlatPart,
    seal: Option<&LaidSeal>,
    search: &Search,
) -> Vec<Proof> {
    let (Some(seal), Some(groove)) = (seal, part.grooves.first()) else {
        // No way was found: the one that came nearest says why.
        let miss = search.miss.iter().map(|m| Proof {
            rule: m.rule,
            what: m.what.clone(),
            value_mm: m.value_mm,
            least_mm: m.least_mm,
        });
        return miss.collect();
    };
    let section_mm = seal.oring.section_mm;
    let all = groove::measured(wanted, opening, section_mm, groove.width_mm, &groove.middle);
    let mut proofs: Vec<Proof> = all
        .into_iter()
        .map(|m| Proof {
            rule: m.rule,
            what: m.what,
            value_mm: m.value_mm,
            least_mm: m.least_mm,
        })
        .collect();
    let encloses = part.outline.encloses(&groove.middle);
    let gap_mm = part.outline.gap(&groove.middle).map_or(0.0, |g| g.0);
    proofs.push(Proof {
        rule: Rule::GrooveOnLand,
        what: "groove and the plate's edge".to_owned(),
        value_mm: if encloses { gap_mm } else { -gap_mm.max(1.0) } - groove.width_mm / 2.0,
        least_mm: LIP_MM,
    });
    proofs
}

/// Grips among each other, for the tool that has room, and beside bolts.
fn grip_room(wanted: &Wanted<'_>, placed: &Placed) -> Vec<Proof> {
    let at = &placed.at;
    let mut proofs = Vec::new();
    for i in 0..at.len() {
        let name = &wanted.grips[i].terminal;
        for j in i + 1..at.len() {
            proofs.push(Proof {
                rule: Rule::SpannerRoom,
                what: format!(
                    "grips {name} and {}, centre to centre",
                    wanted.grips[j].terminal
                ),
                value_mm: apart_mm(at[i], at[j]),
                least_mm: pair_mm(wanted, placed.tool, i, j),
            });
        }
        for hole in &wanted.face.holes {
            proofs.push(Proof {
                rule: Rule::SpannerRoom,
                what: format!("grip {name} and bolt {}, centre to centre", hole.name),
                value_mm: apart_mm(at[i], point(hole)),
                least_mm: bolt_mm(wanted, i),
            });
        }
    }
    proofs
}

fn radius_mm(grip: &GripWanted) -> f64 {
    grip.thread_mm.max(grip.bore_mm) / 2.0
}

/// Metal around the grips' holes, and what is behind them.
fn grip_walls(
    wanted: &Wanted<'_>,
    opening: &Path,
    at: &[Point],
    part: &FlatPart,
) -> Vec<Proof> {
    let mut proofs = Vec::new();
    let mut hold = |rule, what: String, value_mm, least_mm| {
        proofs.push(Proof { rule, what, value_mm, least_mm });
    };
    let unsure_mm = unsure_mm(&wanted.face.corners).max(unsure_mm(&wanted.face.holes));
    for (i, grip) in wanted.grips.iter().enumerate() {
        let (name, radius) = (&grip.terminal, radius_mm(grip));
        for (j, other) in wanted.grips.iter().enumerate().skip(i + 1) {
            let wall = apart_mm(at[i], at[j]) - radius - radius_mm(other);
            hold(
                Rule::GripWall,
                format!("metal between grips {name} and {}", other.terminal),
                wall,
                WALL_MM,
            );
        }
        for hole in &wanted.face.holes {
            let wall =
                apart_mm(at[i], point(hole)) - radius - drilled_mm(&wanted.bolt, hole) / 2.0;
            hold(
                Rule::GripWall,
                format!("metal between grip {name} and bolt hole {}", hole.name),
                wall,
                WALL_MM,
            );
        }
        if let Some(groove) = part.grooves.first() {
            let wall = groove.middle.depth_mm(at[i]) - groove.width_mm / 2.0 - radius;
            hold(
                Rule::GripWall,
                format!("metal between grip {name} and the groove"),
                wall,
                WALL_MM,
            );
        }
        let behind = opening.depth_mm(at[i]) - grip.behind_mm();
        let what = format!("what is behind grip {name} to the edge of the opening");
        hold(Rule::GripWall, what, behind, PLAY_MM / 2.0 + unsure_mm);
        let seat = part.outline.depth_mm(at[i]) - grip.flats_mm / 2.0;
        hold(Rule::EdgeDistance, format!("seat of grip {name} to the plate's edge"), seat, 0.0);
    }
    proofs
}

/// What the thickness must be at least, and for what.
pub(super) fn thickness_needs(
    wanted: &Wanted<'_>,
    seal: Option<&LaidSeal>,
) -> Vec<(String, f64)> {
    let mut needs = Vec::new();
    for grip in wanted.grips.iter().filter(|g| g.tapped.is_some()) {
        let turns = GRIP_TURNS * grip.pitch_mm;
        needs.push((
            format!("thickness for {GRIP_TURNS} turns of grip {}", grip.terminal),
            turns,
        ));
    }
    if let Some(seal) = seal {
        // As much metal under the groove as it is deep (common practice, no source).
        needs.push((
            "thickness for as much metal under the groove as it is deep".to_owned(),
            2.0 * seal.depth_mm,
        ));
    }
    if let Some(sunk_mm) = wanted.bolt.sunk_mm {
        // Under a sunk head the hole's half (common practice, no source), and never less than half the plate.
        let under = (wanted.bolt.diameter_mm / 2.0).max(3.0);
        needs.push((
            "thickness for metal under the sunk heads".to_owned(),
            sunk_mm + under.max(sunk_mm),
        ));
    }
    needs
}

/// The nearest layout that keeps each broken rule.
pub(super) fn cures(wanted: &Wanted<'_>, opening: &Path, laid: &Laid) -> Vec<(Rule, String)> {
    let mm = |v: f64| show_both(v, Dimension::Length, wanted.units);
    let broken = |rule| laid.tightest(rule).filter(|p| p.spare_mm() < -SLACK_MM);
    let mut cures = Vec::new();
    for rule in [Rule::GrooveOnLand, Rule::GrooveRadius] {
        if broken(rule).is_none() {
            continue;
        }
        let cure = match groove::section_that_fits_mm(wanted, opening) {
            Some(section_mm) => format!(
                "a ring of {} section finds a way on this land: leave `o-ring` out, or state one of that section",
                mm(section_mm)
            ),
            None => "no standard section finds a way on this land: seal it with a flat gasket, or measure \
                     opening and holes again"
                .to_owned(),
        };
        cures.push((rule, cure));
    }
    if broken(Rule::RingLength).is_some() {
        let cure = "leave `o-ring` out: a ring of the right length is then chosen, or one cut from cord";
        cures.push((Rule::RingLength, cure.to_owned()));
    }
    for rule in [Rule::SpannerRoom, Rule::GripWall] {
        if broken(rule).is_some() {
            cures.push((rule, grip_cure(wanted, opening)));
        }
    }
    if let Some(proof) = broken(Rule::EdgeDistance) {
        cures.push((
            Rule::EdgeDistance,
            format!("{} is missing there: let the plate stand out over the land, or take smaller heads", mm(-proof.spare_mm())),
        ));
    }
    if let Some(proof) = broken(Rule::Thickness) {
        let least =
            thickness_needs(wanted, laid.seal.as_ref()).iter().map(|n| n.1).fold(0.0, f64::max);
        let cure = if proof.what.starts_with("thickness") {
            format!("make it {} thick", mm(stock_mm(least)))
        } else {
            "tap the plate, or take a grip with a longer thread".to_owned()
        };
        cures.push((Rule::Thickness, cure));
    }
    if let Some(proof) = broken(Rule::Fit) {
        let hole_mm = wanted.bolt.diameter_mm + 2.0 * proof.least_mm;
        cures.push((Rule::Fit, format!("survey the face better, or drill {}", mm(hole_mm))));
    }
    cures
}

/// Where grips could be instead, or which would fit.
fn grip_cure(wanted: &Wanted<'_>, opening: &Path) -> String {
    let mm = |v: f64| show_both(v, Dimension::Length, wanted.units);
    if wanted.grips.iter().any(|g| g.at.is_some()) {
        let start = grips::starts(wanted);
        let free = vec![false; start.len()];
        for tool in grips::TOOLS {
            let placed = grips::settle(wanted, opening, tool, &start, &free);
            if placed.short_mm <= SLACK_MM {
                let spots = placed.at.iter().zip(&wanted.grips).map(|(p, g)| {
                    format!("{} = \"{:.2} mm, {:.2} mm\"", key(&g.terminal), p[0], p[1])
                });
                let spots: Vec<String> = spots.collect();
                return format!("these places work: grip-at = {{ {} }}", spots.join(", "));
            }
        }
    }
    match grips::flats_that_fit_mm(wanted, opening) {
        Some(flats_mm) => format!(
            "grips of at most {} across flats find room here: take a smaller grip, or a cable that needs one",
            mm(flats_mm)
        ),
        None => "no grip finds room here: bring the cables in one by one elsewhere, or raise the plate on a frame"
            .to_owned(),
    }
}

/// A label as a key of the document: in quotes where it is not a plain word.
fn key(label: &str) -> String {
    let plain = !label.is_empty()
        && label.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
    if plain { label.to_owned() } else { format!("\"{label}\"") }
}
