//! Every price that is stated is the price of something in the kit.
//!
//! A misspelt name would leave its part without a price, and the cost too low, in silence.
//!
//! Source: common practice, no source.

use super::{Check, Designed};
use crate::finding::{Notes, Verdict};
use crate::given::nearest::nearest;

/// The rule.
pub(super) const CHECK: Check = Check {
    code: "price-known",
    rule: "each name in [prices] is that of a part of the kit",
    source: "common-practice",
    judge,
};

fn judge(check: &Check, designed: &Designed<'_>, notes: &mut Notes) {
    let items = &designed.kit.items;
    let prices = &designed.parts.build.prices;
    let known = |name: &str| items.iter().any(|item| item.is(name));
    if let Some((first, _)) = prices.iter().find(|(name, _)| known(&name.value)) {
        // One line for all: a price that is used needs no line of its own.
        let used = prices.iter().filter(|(name, _)| known(&name.value)).count();
        let message =
            format!("{used} of {} stated prices are those of parts in the kit", prices.len());
        notes.find(check.finding(Verdict::Holds, first.at, message));
    }
    for (name, _) in prices.iter().filter(|(name, _)| !known(&name.value)) {
        let message =
            format!("no part of the kit is called `{}`, its price is not used", name.value);
        // What has a price already needs no other.
        let wanting = items.iter().filter(|item| item.price.is_none());
        let names = |item| -> &str { crate::work::kit::Item::bought_as(item) };
        let hint = match nearest(&name.value, wanting.map(names)).or_else(|| {
            nearest(&name.value, items.iter().map(names))
        }) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`loomwright kit --csv -` prints the names; prices of parts that other builds use \
                     stand in parts.toml"
                .to_owned(),
        };
        notes.find(check.finding(Verdict::Unknown, name.at, message).hint(hint));
    }
}

#[cfg(test)]
mod tests {
    use super::super::marked::{BASE, check, holds, merge, planned};

    #[test]
    fn a_price_of_a_part_in_the_kit_holds() {
        holds("price-known", "[prices]\n\"label high voltage\" = 0.9\n");
    }

    #[test]
    fn a_misspelt_name_is_found_and_the_right_one_offered() {
        let patch = "[prices]\n\"label hihg voltage\" = 0.9   #! unknown price-known\n";
        check(patch);
        let plan = planned(&merge(BASE, patch));
        let found = plan.findings.iter().find(|f| f.code == "price-known").expect("found");
        assert_eq!(found.hint.as_deref(), Some("did you mean `label high voltage`?"));
    }

    #[test]
    fn the_end_of_a_name_is_not_the_name() {
        // It would fit the cable, its lug and every bolt that ends alike.
        check("[prices]\n\"high voltage\" = 0.9   #! unknown price-known\n");
    }

    #[test]
    fn a_sleeve_is_priced_by_the_metre_whatever_its_cut() {
        let plan = planned(BASE);
        let kinds = |i: &&crate::work::kit::Item| i.kind == crate::work::kit::Kind::Sleeve;
        let sleeve = plan.kit.items.iter().find(kinds).expect("a sleeve");
        let patch = format!("[prices]\n\"{}\" = 10\n", sleeve.bought_as());
        assert_ne!(sleeve.bought_as(), sleeve.part);
        let priced = planned(&merge(BASE, &patch));
        let metres = sleeve.length_mm.expect("a length") / 1000.0;
        let all = f64::from(sleeve.count + sleeve.spares) / f64::from(sleeve.count);
        let item = priced.kit.items.iter().find(kinds).expect("a sleeve");
        assert!((item.cost.expect("a cost") - 10.0 * metres * all).abs() < 1e-9);
    }
}
