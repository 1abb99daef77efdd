//! How warm a lug becomes: its joint's loss flows into its cable.
//!
//! P = I^2 R (1 + a (T - 20)) · rise = P / (k A m), m from the cable's own heat (a fin with a source)
//!
//! The drop rule lets lug, crimp and contact have together what two inches of the cable have. Between its end and the
//! hole the lug takes the place of that much cable, which the cable's own heat counts already; what is over is the
//! joint's. It is never less than one contact spot under the least preload. All of its loss is taken to enter the cable: a
//! terminal on a large cold part takes some of it away, a terminal that is itself hot adds, and neither is known here.

use physics::laws::axial::{self, Fin};
use physics::laws::conductor::{self, Material};
use physics::laws::contact;
use physics::units::Dimension;

use super::Site;
use crate::finding::{Notes, Quantity, Worked};
use crate::given::shelf::Lug;

/// A lug and the cable's end in it, steady.
#[derive(Clone, Debug, PartialEq)]
pub struct LugHeat {
    /// What the joint has over the cable it takes the place of, at 20 degC.
    pub joint_ohm: f64,
    /// Its loss.
    pub loss_w: f64,
    /// How much warmer than the cable's middle.
    pub rise_k: f64,
    /// The lug.
    pub lug_c: f64,
}

/// The most a lug joint may have by the drop rule.
pub(super) fn drop_ohm(site: &Site<'_>) -> Option<f64> {
    let ohm_per_km = site.cable?.resistance_ohm_per_km;
    (ohm_per_km > 0.0).then(|| contact::drop_rule_ohm(ohm_per_km))
}

/// The lug's steady temperature, where the cable's is known.
pub(super) fn warm(
    site: &Site<'_>,
    lug: &Lug,
    contact_n: Option<f64>,
    notes: &mut Notes,
) -> Option<LugHeat> {
    let (cable, heat) = (site.cable?, site.heat?);
    let own_mm = (lug.length_mm - lug.hole_to_tip_mm).max(0.0);
    let own_ohm = cable.resistance_ohm_per_km * own_mm / 1e6;
    let floor_ohm = contact_n.filter(|f| *f > 0.0).map_or(0.0, |force_n| {
        let rho = Material::Copper.resistivity_20_ohm_m();
        contact::holm_ohm(rho, contact::COPPER_HARDNESS_MPA, force_n)
    });
    let joint_ohm = (drop_ohm(site)? - own_ohm).max(floor_ohm);
    let conductor_c = heat.conductor_c?;
    let rise_c = conductor_c - heat.air_c;
    let conductance_w_mk = heat.loss_w_per_m / rise_c;
    if !(rise_c > 0.0 && conductance_w_mk > 0.0 && conductance_w_mk.is_finite()) {
        return None;
    }
    let fin = Fin {
        area_mm2: conductor::effective_area_mm2(cable.resistance_ohm_per_km, Material::Copper),
        conductivity_w_mk: axial::COPPER_W_MK,
        conductance_w_mk,
        resistance_20_ohm_per_m: cable.resistance_ohm_per_km / 1000.0 * heat.ac_ratio,
        alpha_per_k: conductor::resistance_factor(21.0, Material::Copper) - 1.0,
        current_a: heat.current_a_rms,
        air_c: heat.air_c,
    };
    let decay = axial::decay(&fin)?;
    let warm_ohm = joint_ohm * conductor::resistance_factor(conductor_c, Material::Copper);
    let loss_w = fin.current_a * fin.current_a * warm_ohm;
    // The heat that enters the cable for each kelvin its end is warmer than its middle.
    let per_k = axial::heat_in_w(&fin, &decay, decay.far_c + 1.0, None);
    let rise_k = loss_w / per_k;
    let lug_c = conductor_c + rise_k;
    let found = LugHeat { joint_ohm, loss_w, rise_k, lug_c };
    note(site, &found, [drop_ohm(site)?, own_ohm, floor_ohm], conductor_c, &decay, notes);
    Some(found)
}

fn note(
    site: &Site<'_>,
    found: &LugHeat,
    [most, own, floor]: [f64; 3],
    conductor_c: f64,
    decay: &axial::Decay,
    notes: &mut Notes,
) {
    let q = Quantity::new;
    let mut work = |what: &str, value, law, inputs, source| {
        let what = what.to_owned();
        notes.work(Worked { what, about: site.about(), value, law, inputs, source });
    };
    let ohms = |v: f64| q(v, Dimension::Resistance);
    let ohm = ohms(found.joint_ohm);
    work(
        "resistance of the lug joint over its cable's, at 20 degC",
        ohm,
        "R = the larger of r (50.8 mm - lug) and (rho/2) sqrt(pi H/F)",
        vec![("r 50.8 mm", ohms(most)), ("r lug", ohms(own)), ("one spot", ohms(floor))],
        "holm",
    );
    work(
        "loss of the lug joint",
        q(found.loss_w, Dimension::Power),
        "P = I^2 R (1 + a (T - 20))",
        vec![("R", ohm), ("T", q(conductor_c, Dimension::Temperature))],
        "ohms-law",
    );
    work(
        "lug, steady",
        q(found.lug_c, Dimension::Temperature),
        "T_lug = T + P/(k A m)",
        vec![
            ("T", q(conductor_c, Dimension::Temperature)),
            ("P", q(found.loss_w, Dimension::Power)),
            ("1/m", q(1000.0 / decay.decay_per_m, Dimension::Length)),
        ],
        "exact",
    );
}
