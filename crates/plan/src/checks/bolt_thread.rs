//! The bolt has the terminal's thread.
//!
//! Without the thread nothing that lands can be settled: lug, bolt and torque all wait for it. M8 and 5/16-18 start into each
//! other and strip.
//!
//! Source: common practice, no source.

use super::view::sides;
use super::{Check, Designed};
use crate::design::joint::written_mm;
use crate::finding::{Notes, Verdict};
use crate::given::build::Landing;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "bolt-thread",
    rule: "the bolt has the terminal's thread",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        let port = side.site.port.port;
        let Some(thread) = side.site.thread() else {
            let message = format!("thread of the terminals at {} is not known", side.port());
            let at = side.site.at_port(&port.thread);
            notes.find(
                side.find(check, Verdict::Unknown, at, message)
                    .hint("measure it with a thread gauge and state `thread`: it settles lug, bolt and torque")
                    .safety(),
            );
            continue;
        };
        let given = &side.site.given.given.bolt;
        if let (Some(bolt), Landing::Stud) = (given, side.site.landing()) {
            let message = format!("{} is stated for the studs at {}", bolt.value, side.port());
            notes.find(
                side.find(check, Verdict::Fails, bolt.at, message).hint(
                    "a stud takes a nut: leave `bolt` out, or state the landing as tapped",
                ),
            );
            continue;
        }
        let written = given.as_ref().and_then(|b| written_mm(&b.value));
        let matches = written.is_none_or(|(d, _)| d == thread.diameter_mm);
        let bolt = given.as_ref().map_or_else(|| thread.designation(), |b| b.value.clone());
        let message = format!("{bolt} for {} at {}", thread.designation(), side.port());
        let at = match given {
            Some(given) => given.at,
            None => side.site.at_port(&port.thread),
        };
        notes.find(side.find(check, Verdict::kept(matches), at, message).hint(format!(
            "state a bolt of {}, or leave `bolt` out and one is chosen",
            thread.designation()
        )));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{check, holds};
    use super::super::view::seen::unknown;

    #[test]
    fn a_bolt_of_the_terminals_thread_holds() {
        holds("bolt-thread", "");
    }

    #[test]
    fn a_bolt_of_another_thread_fails() {
        check(
            r#"
            [run.phases.to-end]
            bolt = "M6x16"   #! fails bolt-thread
            "#,
        );
    }

    #[test]
    fn a_bolt_for_a_stud_fails() {
        check(
            r#"
            [run.dc.from-end]
            bolt = "M8x20"   #! fails bolt-thread
            "#,
        );
    }

    #[test]
    fn an_unknown_thread_is_asked_for() {
        let patch = "[device.battery.port.main]\nthread = absent";
        assert!(unknown("bolt-thread", "device.battery.port.main", patch).safety);
    }
}
