//! High-voltage cable outside enclosures is orange.
//!
//! Whoever opens the vehicle after a crash knows the traction circuit by nothing else.
//!
//! Source: UN R100 5.1.1.5.3: the outer covering of cables of high-voltage buses outside enclosures is
//! orange. High voltage is above 60 V DC or 30 V AC.

use physics::laws::isolation::TOUCH_DC_V_MAX;
use physics::units::Dimension;

use super::{Check, Designed};
use crate::finding::{About, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "cover-colour",
    rule: "the outside of cable above 60 V DC is orange",
    source: "un-r100",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    // An unknown voltage is taken as high: the colour costs nothing.
    let volts = designed.parts.voltage_v_max.unwrap_or(f64::INFINITY);
    if volts <= TOUCH_DC_V_MAX {
        return;
    }
    let above = designed.show(TOUCH_DC_V_MAX, Dimension::Voltage);
    for run in designed.runs() {
        let Some(cable) = &run.size.cable else { continue };
        let verdict = Verdict::kept(cable.colour.to_lowercase().contains("orange"));
        let message = format!(
            "the cable of run {}, {}, is {}, and above {above} it has to be orange",
            run.id, cable.row.id, cable.colour
        );
        let at = run.at(&run.parts.run.cable);
        let mut finding = check.finding(verdict, at, message).about(About::run(run.id));
        if verdict == Verdict::Fails {
            finding = finding
                .hint("take an orange cable, or cover it end to end with an orange sleeve");
        }
        notes.find(finding);
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, holds};
    use crate::finding::Verdict;
    use crate::given::document::read;
    use crate::given::shelf_read::standard;
    use crate::plan;

    #[test]
    fn orange_cable_holds() {
        holds("cover-colour", "");
    }

    #[test]
    fn black_cable_fails_above_sixty_volts_only() {
        let mut shelf = standard().clone();
        for cable in &mut shelf.cables {
            cable.colour = "black".to_owned();
        }
        let verdicts = |text: &str| -> Vec<Verdict> {
            let plan = plan(&read(text).build, &shelf);
            let mine = plan.findings.iter().filter(|f| f.code == "cover-colour");
            mine.map(|f| f.verdict).collect()
        };
        assert_eq!(verdicts(BASE), [Verdict::Fails, Verdict::Fails]);
        let low = BASE.replace("voltage-max = \"403 V\"", "voltage-max = \"58 V\"");
        assert_ne!(low, BASE);
        assert!(verdicts(&low).is_empty());
    }
}
