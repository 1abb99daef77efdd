//! A plate taken from the shop's shelf fits the face it is used on, and has its record.
//!
//! Its bolt holes are laid on the housing's by least squares; every distance of the plate is then held to the same rules as one
//! laid out for this face. Here is judged whether it is the same pattern at all, and whether it was measured when it was made.
//!
//! Source: common practice, no source.

use super::view::{Fitted, plates};
use super::{Check, Designed};
use crate::design::layout::Rule;
use crate::design::plates::KeptUse;
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "plate-kept",
    rule: "a plate from the shop's shelf meets the port's surveyed face, and was measured when it was made",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for fitted in plates(designed) {
        if let Some(kept) = &fitted.plate.kept {
            notes.find(kept_plate(check, &fitted, kept));
        }
    }
}

fn kept_plate(check: &Check, fitted: &Fitted<'_>, kept: &KeptUse) -> Finding {
    let at = fitted.at(&fitted.given.kept);
    let (name, id) = (fitted.name(), &kept.id);
    if let Some(why) = &kept.misfit {
        let message = format!("the kept plate {id} is none for {name}: {why}");
        let hint = "take another, or leave `use` out and lay out a new one";
        return fitted.find(check, Verdict::Fails, at, message).hint(hint);
    }
    if fitted.port.port.face.is_none() {
        let message = format!("whether the kept plate {id} fits {name} cannot be told");
        let hint = "survey the face: bolt holes, terminals and opening, with a calliper";
        return fitted.find(check, Verdict::Unknown, at, message).hint(hint).safety();
    }
    let record = &kept.record;
    let by = format!("kept by {} on {}", record.kept_by, record.kept_on);
    if record.measured.is_empty() {
        let message =
            format!("the kept plate {id} at {name}, {by}, has no readings of the part as made");
        let hint = "measure it by its check sheet and keep it again with `--readings`";
        return fitted.find(check, Verdict::Close, at, message).hint(hint);
    }
    let laid = fitted.plate.laid.as_ref();
    let play = laid.and_then(|l| l.tightest(Rule::Fit));
    let play = play.map_or_else(String::new, |p| {
        format!(", its tightest bolt hole with {} to spare", fitted.mm(p.spare_mm()))
    });
    let message = format!(
        "the kept plate {id}, {by} with {} readings, lies on {name}{play}",
        record.measured.len()
    );
    fitted.find(check, Verdict::Holds, at, message)
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, merge, planned};
    use super::super::view::FACED;
    use super::*;
    use crate::Plan;
    use crate::given::document::read;
    use crate::given::shelf::Shelf;
    use crate::given::shelf_plate::written;
    use crate::given::shelf_read::{standard, with_shop};

    /// Sizes a kept plate says itself, left out of the base.
    const USED: &str = "[device.motor.port.phases.plate]\nuse = \"seven M6\"\nmaterial = absent\n\
        thickness = absent\ngrip-hole = absent\ngroove-tolerance = absent\n";

    /// A shelf with the base's plate as laid out on the surveyed face.
    fn shelf(readings: &str) -> Shelf {
        let plan = planned(&merge(BASE, FACED));
        let plate = plan.plates.iter().find(|p| p.port == "motor.phases").unwrap();
        let kept = crate::design::plates::keep(plate, "seven M6").unwrap();
        let text = written(&kept).replace("kept-by = \"\"", "kept-by = \"A. Turner\"");
        let text = text.replace("kept-on = \"\"", "kept-on = \"2026-11-25\"");
        let text = text.replace("kept-from = \"\"", "kept-from = \"a test\"");
        let (shelf, errors) = with_shop(standard(), &format!("{text}{readings}"));
        assert_eq!(errors, []);
        shelf
    }

    const READING: &str = "measured = [{ what = \"Thickness\", read = \"14.02 mm\", \
        least = \"13.8 mm\", most = \"14.2 mm\" }]\n";

    fn used(face: &str, shelf: &Shelf) -> Plan {
        let reading = read(&merge(BASE, &format!("{face}{USED}")));
        assert_eq!(reading.errors, []);
        crate::plan(&reading.build, shelf)
    }

    fn finding(plan: &Plan) -> &Finding {
        plan.findings.iter().find(|f| f.code == "plate-kept").unwrap()
    }

    /// The surveyed face without its own plate's table.
    fn face() -> String {
        FACED.split("[device.motor.port.phases.plate]").next().unwrap().to_owned()
            + "[device.motor.port.phases.plate]\ngrip-pitch = absent\no-ring = absent\n\
               groove-depth = absent\ngroove-width = absent\ngroove-inside = absent\n"
    }

    #[test]
    fn on_its_own_face_it_holds_and_is_the_same_plate() {
        let shelf = shelf(READING);
        let plan = used(&face(), &shelf);
        let found = finding(&plan);
        assert_eq!(found.verdict, Verdict::Holds, "{}", found.message);
        assert!(found.message.contains("A. Turner") && found.message.contains("1 readings"));
        let about = &found.about;
        let wrong = plan.findings.iter().filter(|f| f.about == *about);
        let wrong: Vec<_> = wrong.filter(|f| f.verdict == Verdict::Fails).collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
        let plate = plan.plates.iter().find(|p| p.port == "motor.phases").unwrap();
        assert_eq!(plate.thickness_mm, Some(shelf.plates[0].thickness_mm));
        assert_eq!(plate.laid.as_ref().unwrap().part.holes, shelf.plates[0].holes);
    }

    #[test]
    fn without_readings_it_is_close() {
        let plan = used(&face(), &shelf(""));
        assert_eq!(finding(&plan).verdict, Verdict::Close);
    }

    #[test]
    fn a_bolt_hole_elsewhere_fails() {
        // One hole of the housing half a millimetre off: the same pattern, and its bolt does not go in.
        let shelf = shelf(READING);
        let off = face().replace("\"-104 mm\", \"-44 mm\"", "\"-104.6 mm\", \"-44 mm\"");
        let plan = used(&off, &shelf);
        let fit =
            plan.findings.iter().find(|f| f.code == "plate-fit" && f.verdict == Verdict::Fails);
        assert!(fit.unwrap().hint.as_ref().unwrap().contains("does not suit this face"));
        let other = face().replace("\"-104 mm\", \"-44 mm\"", "\"-99 mm\", \"-44 mm\"");
        let plan = used(&other, &shelf);
        let found = finding(&plan);
        assert_eq!(found.verdict, Verdict::Fails);
        assert!(found.message.contains("off however it is turned"), "{}", found.message);
        // Six holes are another pattern.
        let (before, rest) = face()
            .split_once("[device.motor.port.phases.face.hole.B7]")
            .map(|(a, b)| (a.to_owned(), b.to_owned()))
            .unwrap();
        let (_, after) = rest.split_once("[device.motor.port.phases.face.terminal.U]").unwrap();
        let fewer = format!("{before}[device.motor.port.phases.face.terminal.U]{after}");
        let message = finding(&used(&fewer, &shelf)).message.clone();
        assert!(message.contains("7 bolt holes, and the face 6"), "{message}");
    }

    #[test]
    fn without_a_face_it_is_unknown() {
        let none = "[device.motor.port.phases.plate]\ngrip-pitch = absent\no-ring = absent\n\
                    groove-depth = absent\ngroove-width = absent\ngroove-inside = absent\n";
        let plan = used(none, &shelf(READING));
        assert_eq!(finding(&plan).verdict, Verdict::Unknown);
        assert!(!plan.for_building());
    }

    #[test]
    fn a_name_that_leads_nowhere_fails() {
        let plan = used(&face(), standard());
        let found = plan.findings.iter().find(|f| f.code == "part-exists").unwrap();
        assert!(found.message.contains("no plate `seven M6`"), "{}", found.message);
    }
}
