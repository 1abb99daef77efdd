//! What the checks of ends and plates look at, and the words they share.

use physics::units::{Dimension, System, show_both};

use super::{Check, Designed};
use crate::design::ends::{self, End, Site};
use crate::design::joint::{self, Joint, TorqueChoice};
use crate::design::layout::{Proof, Rule, SLACK_MM};
use crate::design::plates::{Plate, plate_joint};
use crate::finding::{About, Finding, Notes, Place, Verdict};
use crate::given::build::{Maybe, PlateGiven};
use crate::given::parts::{Parts, PlateParts, PortParts};
use crate::given::shelf::Lug;

/// One side of a run, with its ends; all cables of the run have the same there.
#[derive(Clone, Copy)]
pub(super) struct Side<'a> {
    pub(super) site: Site<'a>,
    pub(super) end: &'a End,
}

/// Every side of every run that has cables.
pub(super) fn sides<'a>(designed: &Designed<'a>) -> Vec<Side<'a>> {
    ends::sites(designed.parts, designed.sizes)
        .into_iter()
        .filter_map(|site| {
            let of = |e: &&End| {
                e.run == site.run.run.id.value
                    && e.side == site.side
                    && e.port == site.port.name
            };
            Some(Side { site, end: designed.ends.iter().find(of)? })
        })
        .collect()
}

impl<'a> Side<'a> {
    /// The joint of the lug as the design saw it; its assumptions are noted already.
    pub(super) fn joint<'l>(&self, lug: &'l Lug) -> Option<Joint<'l>>
    where
        'a: 'l,
    {
        ends::joint(&self.site, lug, &mut Notes::default())
    }

    pub(super) fn find(
        &self,
        check: &Check,
        verdict: Verdict,
        at: Place,
        message: String,
    ) -> Finding {
        Finding::new(check.code, verdict, at, check.source, message).about(self.site.about())
    }

    /// "at motor.phases".
    pub(super) fn port(&self) -> &'a str {
        &self.site.port.name
    }

    pub(super) fn mm(&self, value: f64) -> String {
        mm(value, self.site.parts.units)
    }

    pub(super) fn nm(&self, value: f64) -> String {
        nm(value, self.site.parts.units)
    }
}

/// A plate with its port.
#[derive(Clone, Copy)]
pub(super) struct Fitted<'a> {
    pub(super) parts: &'a Parts<'a>,
    pub(super) port: &'a PortParts<'a>,
    pub(super) given: &'a PlateGiven,
    pub(super) looked_up: &'a PlateParts<'a>,
    pub(super) plate: &'a Plate,
}

/// Every plate.
pub(super) fn plates<'a>(designed: &Designed<'a>) -> Vec<Fitted<'a>> {
    let parts = designed.parts;
    designed
        .plates
        .iter()
        .filter_map(|plate| {
            let port = parts.ports.iter().find(|p| p.name == plate.port)?;
            let looked_up = port.plate.as_ref()?;
            Some(Fitted { parts, port, given: looked_up.given, looked_up, plate })
        })
        .collect()
}

impl<'a> Fitted<'a> {
    /// The joint of the plate's bolts as the design saw it.
    pub(super) fn joint(&self) -> Option<Joint<'a>> {
        let thickness_mm = self.plate.thickness_mm;
        plate_joint(self.parts, self.port, self.looked_up, thickness_mm, &mut Notes::default())
    }

    pub(super) fn find(
        &self,
        check: &Check,
        verdict: Verdict,
        at: Place,
        message: String,
    ) -> Finding {
        Finding::new(check.code, verdict, at, check.source, message)
            .about(About::port(&self.port.name))
    }

    /// Where a stated value of the plate stands, else the plate itself.
    pub(super) fn at<T>(&self, given: &Maybe<T>) -> Place {
        given.as_ref().map_or(self.given.at, |g| g.at)
    }

    pub(super) fn name(&self) -> &'a str {
        &self.port.name
    }

    pub(super) fn mm(&self, value: f64) -> String {
        mm(value, self.parts.units)
    }

    pub(super) fn nm(&self, value: f64) -> String {
        nm(value, self.parts.units)
    }
}

impl Fitted<'_> {
    /// The distance with least to spare among those a rule holds on the laid-out plate.
    pub(super) fn proven(&self, check: &Check, rule: Rule, at: Place) -> Option<Finding> {
        let laid = self.plate.laid.as_ref()?;
        let proof = laid.tightest(rule)?;
        let found = self.judged(check, proof, at);
        Some(match laid.cure(rule) {
            Some(cure) => found.hint(cure),
            None => found,
        })
    }

    /// Where the places of the grips are stated, else the plate.
    pub(super) fn grips_at(&self) -> Place {
        self.given.grip_at.first().map_or(self.given.at, |(_, at)| at.at)
    }

    /// A distance, judged: what was laid out to its limit keeps it.
    pub(super) fn judged(&self, check: &Check, proof: &Proof, at: Place) -> Finding {
        let verdict = Verdict::kept(proof.spare_mm() >= -SLACK_MM);
        let message = format!(
            "{} at {}: {}, {} the least of {}",
            proof.what,
            self.name(),
            self.mm(proof.value_mm),
            super::above(verdict, proof.value_mm, proof.least_mm),
            self.mm(proof.least_mm)
        );
        self.find(check, verdict, at, message).judged(
            proof.value_mm,
            proof.least_mm,
            Dimension::Length,
        )
    }
}

/// A length in both systems.
pub(super) fn mm(value: f64, units: System) -> String {
    show_both(value, Dimension::Length, units)
}

/// A torque in both systems.
pub(super) fn nm(value: f64, units: System) -> String {
    show_both(value, Dimension::Torque, units)
}

/// A share in percent.
pub(super) fn percent(share: f64) -> String {
    show_both(share, Dimension::Ratio, System::Metric)
}

/// The least of a torque's limits but what the build itself states, and what sets it.
pub(super) fn weakest(torque: &TorqueChoice) -> Option<(f64, &str)> {
    torque
        .limits
        .iter()
        .filter(|l| l.what != "stated by the build")
        .min_by(|a, b| a.torque_nm.total_cmp(&b.torque_nm))
        .map(|l| (l.torque_nm, l.what.as_str()))
}

/// The least of what the joint itself bears, whatever anyone states, and what sets it.
pub(super) fn borne(joint: &Joint<'_>, engagement_mm: f64) -> Option<(f64, String)> {
    let least = joint
        .limits(engagement_mm)
        .into_iter()
        .min_by(|a, b| a.torque_nm.total_cmp(&b.torque_nm))?;
    Some((least.torque_nm, least.what))
}

/// How far thread reaches into thread, judged: against all that is needed, or kept where the torque was set by it.
pub(super) fn engaged(stack: &joint::Stack, torque: Option<&TorqueChoice>) -> Verdict {
    let set_by_thread = torque.is_some_and(|t| {
        t.governed_by.starts_with("thread in") || t.governed_by.starts_with("engagement rule")
    });
    if set_by_thread || stack.nut.is_some() {
        Verdict::kept(stack.engagement_mm >= stack.engagement_mm_min - 1e-9)
    } else {
        Verdict::at_least(stack.engagement_mm, stack.engagement_mm_min)
    }
}

/// Room under the tip, judged: negative fails, less than a pitch is close.
pub(super) fn room(left_mm: f64, margin_mm: f64) -> Verdict {
    if !(left_mm >= 0.0) {
        Verdict::Fails
    } else if left_mm < margin_mm {
        Verdict::Close
    } else {
        Verdict::Holds
    }
}

/// Tests of single findings: a patch to the base, the verdict it must bring, and the words of the line it must stand on.
#[cfg(test)]
pub(super) mod seen {
    use super::super::marked::{BASE, merge, planned};
    use crate::finding::{Finding, Verdict};

    /// The finding of this code and verdict on a line that holds `words`.
    #[track_caller]
    pub(in super::super) fn finds(
        verdict: Verdict,
        code: &str,
        words: &str,
        patch: &str,
    ) -> Finding {
        let text = merge(BASE, patch);
        let plan = planned(&text);
        let lines: Vec<&str> = text.lines().collect();
        let line = |f: &Finding| lines.get(f.at.line as usize - 1).copied().unwrap_or("");
        let all: Vec<&Finding> = plan.findings.iter().filter(|f| f.code == code).collect();
        let before = planned(BASE);
        let new = |f: &&&Finding| {
            !before
                .findings
                .iter()
                .any(|b| b.code == f.code && b.verdict == f.verdict && b.about == f.about)
        };
        let found = all
            .iter()
            .filter(|f| f.verdict == verdict)
            .filter(new)
            .find(|f| line(f).contains(words));
        match found {
            Some(found) => (**found).clone(),
            None => {
                let seen: Vec<String> = all
                    .iter()
                    .map(|f| format!("{} on `{}`: {}", f.verdict.word(), line(f), f.message))
                    .collect();
                panic!("no new {} {code} on `{words}`\n{}", verdict.word(), seen.join("\n"))
            }
        }
    }

    /// A failure of this code on a line that holds `words`.
    #[track_caller]
    pub(in super::super) fn fails(code: &str, words: &str, patch: &str) -> Finding {
        finds(Verdict::Fails, code, words, patch)
    }

    /// An unknown of this code on a line that holds `words`, with what to do.
    #[track_caller]
    pub(in super::super) fn unknown(code: &str, words: &str, patch: &str) -> Finding {
        let found = finds(Verdict::Unknown, code, words, patch);
        assert!(found.hint.is_some(), "an unknown says what to measure");
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn room_under_a_tip_is_close_within_a_pitch() {
        assert_eq!(room(-0.01, 1.25), Verdict::Fails);
        assert_eq!(room(f64::NAN, 1.25), Verdict::Fails);
        assert_eq!(room(0.0, 1.25), Verdict::Close);
        assert_eq!(room(1.24, 1.25), Verdict::Close);
        assert_eq!(room(1.25, 1.25), Verdict::Holds);
    }

    #[test]
    fn what_the_build_states_is_no_limit_of_the_joint() {
        let limit = |what: &str, torque_nm| joint::TorqueLimit {
            what: what.to_owned(),
            torque_nm,
            source: "shop",
        };
        let torque = TorqueChoice {
            torque_nm: 5.0,
            preload_n: 4000.0,
            limits: vec![
                limit("bolt 8.8", 24.0),
                limit("pad of brass", 12.0),
                limit("stated by the build", 5.0),
            ],
            governed_by: "stated by the build".to_owned(),
        };
        assert_eq!(weakest(&torque), Some((12.0, "pad of brass")));
    }
}

/// A surveyed face for the base's motor: an irregular opening, seven unequal bolts, terminals off centre; the plate's
/// ring, groove and thickness are left to the layout.
#[cfg(test)]
pub(super) const FACED: &str = r#"
[device.motor.port.phases.face.hole.B1]
at = ["-104 mm", "-44 mm"]
[device.motor.port.phases.face.hole.B2]
at = ["-22 mm", "-58 mm"]
[device.motor.port.phases.face.hole.B3]
at = ["56 mm", "-56 mm"]
[device.motor.port.phases.face.hole.B4]
at = ["116 mm", "-22 mm"]
[device.motor.port.phases.face.hole.B5]
at = ["110 mm", "42 mm"]
[device.motor.port.phases.face.hole.B6]
at = ["14 mm", "60 mm"]
[device.motor.port.phases.face.hole.B7]
at = ["-100 mm", "60 mm"]
[device.motor.port.phases.face.terminal.U]
at = ["-46 mm", "6 mm"]
[device.motor.port.phases.face.terminal.V]
at = ["2 mm", "-3 mm"]
[device.motor.port.phases.face.terminal.W]
at = ["50 mm", "2 mm"]
[device.motor.port.phases.face.opening]
points = ["-80 mm, -32 mm", "30 mm, -42 mm", "92 mm, -20 mm", "86 mm, 32 mm", "20 mm, 40 mm", "-76 mm, 44 mm"]
radius = "9 mm"
[device.motor.port.phases.face.outline]
points = ["-118 mm, -58 mm", "-20 mm, -72 mm", "62 mm, -70 mm", "130 mm, -46 mm", "126 mm, 56 mm", "40 mm, 74 mm", "-60 mm, 84 mm", "-120 mm, 72 mm"]
radius = "10 mm"
[device.motor.port.phases.plate]
grip-pitch = absent
o-ring = absent
groove-depth = absent
groove-width = absent
groove-inside = absent
"#;
