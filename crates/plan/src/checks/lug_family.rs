//! The lug's barrel is made for the conductor's kind of stranding.
//!
//! Lugs of DIN 46235 are sized for the largest stranded conductor of class 2; a fine-stranded one of the same area sits
//! loose in them by a quarter to half a size. Solderless lugs are for their own tool and not for fine strands of this size.
//!
//! Source: DIN 46235 (memory); the looseness read in a practitioners' thread.

use super::view::{Side, sides};
use super::{Check, Designed};
use crate::finding::{Finding, Notes, Verdict};

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "lug-family",
    rule: "a lug sized for coarse strands is not pressed on a fine-stranded conductor without proof, and all lugs are of the shop's family",
    source: "din-46235",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    for side in sides(designed) {
        notes.findings.extend(family(check, &side));
    }
}

fn family(check: &Check, side: &Side<'_>) -> Option<Finding> {
    let (lug, cable) = (side.end.lug.as_ref()?, side.site.cable?);
    let at = side.site.at_end(&side.site.given.given.lug);
    let wanted = side.site.parts.build.workshop.lug_family.as_ref().map(|f| f.value);
    if let Some(wanted) = wanted.filter(|w| *w != lug.family) {
        let message = format!(
            "lug {} at {} is of family {}, the shop's is {wanted}",
            lug.row.id,
            side.port(),
            lug.family
        );
        let hint = "name a lug of the family, or change `lug-family` in [workshop]";
        return Some(side.find(check, Verdict::Fails, at, message).hint(hint));
    }
    let fine = !["1", "2", "solid"].contains(&cable.class.as_str());
    let coarse = lug.family != "tube";
    let class = match cable.class.as_str() {
        "AWG" => "fine strands of an AWG size".to_owned(),
        class => format!("class {class}"),
    };
    let verdict = if fine && coarse { Verdict::Close } else { Verdict::Holds };
    let message =
        format!("lug {} of family {} on {class} at {}", lug.row.id, lug.family, side.port());
    Some(side.find(check, verdict, at, message).hint(
        "cut a trial crimp through and look for voids, or go by the lug maker's table for fine strands; a tube lug is sized for them",
    ))
}

#[cfg(test)]
mod tests {
    use super::super::marked::{holds, verdicts};
    use super::super::view::seen::{fails, finds};
    use crate::finding::Verdict;

    #[test]
    fn tube_lugs_suit_fine_strands() {
        holds("lug-family", "");
        assert_eq!(verdicts("lug-family", ""), [Verdict::Holds; 4]);
    }

    #[test]
    fn a_heavy_lug_on_fine_strands_wants_proof() {
        let patch = "[run.dc]\nsizes = \"metric\"\nconductor = \"70 mm2\"\n[run.dc.from-end]\nlug = \"DIN 70 mm2 M8\"";
        finds(Verdict::Close, "lug-family", "lug = ", patch);
    }

    #[test]
    fn a_lug_of_another_family_fails() {
        let patch =
            "[workshop]\nlug-family = \"din-46235\"\n[run.dc.from-end]\nlug = \"2/0 M8\"";
        fails("lug-family", "lug = ", patch);
    }
}
