//! Every rule the plan is held against, one file a code.
//!
//! A check reads what was designed and notes findings; it changes nothing. [`ALL`] is the one catalogue:
//! the plan runs it, the manual prints it, the tests count it.

#[cfg(test)]
pub(crate) mod marked;
mod view;
mod straight;
mod end_warmth;
mod phase_match;
mod length_spread;
mod reel_length;
mod bend_radius;
mod clip_spacing;
mod first_clip;
mod air_below_limit;
mod limit_above_cable;
mod conductor_temperature;
mod peak_temperature;
mod duty_temperature;
mod section_length;
mod section_hottest;
mod terminal_hot;
mod band_crosses_limit;
mod ageing;
mod voltage_drop;
mod insulation_voltage;
mod cover_colour;
mod sleeve_temperature;
mod grip_temperature;
mod terminal_temperature;
mod lug_temperature;
mod lug_found;
mod lug_conductor;
mod lug_family;
mod lug_hole;
mod palm_width;
mod palm_bend;
mod palm_bend_radius;
mod palm_bend_place;
mod terminal_clearance;
mod palm_wall;
mod terminal_creepage;
mod room_above;
mod crimp_die;
mod strip_length;
mod sleeve_found;
mod sleeve_passes;
mod sleeve_shrinks;
mod sleeve_covers;
mod sleeve_off_palm;
mod sleeve_adhesive;
mod grip_found;
mod grip_clamps_least;
mod grip_clamps_most;
mod grip_thread;
mod grip_pitch;
mod grip_hold;
mod straight_after_grip;
mod straight_after_lug;
mod screen_landed;
mod screen_grip;
mod screen_strip;
mod bolt_thread;
mod bolt_head;
mod tool_access;
mod bolt_engagement;
mod bolt_bottoms;
mod washer_fits;
mod lug_torque;
mod torque_enough;
mod preload_kept;
mod preload_hot;
mod joint_creep;
mod pad_pressure;
mod block_material;
mod block_bolts;
mod survey_consistent;
mod survey_determined;
mod survey_photo_residual;
mod plate_bolt_engagement;
mod plate_bolt_bottoms;
mod plate_torque;
mod oring_known;
mod seal_squeeze;
mod seal_fill;
mod seal_stretch;
mod groove_width;
mod groove_depth;
mod seal_load;
mod seal_temperature;
mod plate_layout;
mod plate_fit;
mod groove_on_land;
mod groove_radius;
mod ring_length;
mod grip_spanner_room;
mod grip_wall;
mod plate_edge_distance;
mod plate_thickness;
mod plate_gap;
mod plate_one_way;
mod plate_kept;
mod block_layout;
mod block_fit;
mod block_wall;
mod block_creepage;
mod protection_missing;
mod fuses;
mod fuse_carries;
mod fuse_peak;
mod fuse_voltage;
mod fuse_breaking;
mod fuse_clears;
mod fuse_cable_withstand;
mod fuse_overload;
mod fuse_duty;
mod fuse_guards;
mod overload_limit;
mod trip_peak;
mod contactor_known;
mod contactor_carries;
mod contactor_voltage;
mod contactor_breaks;
mod contactor_closes;
mod precharge_left;
mod precharge_energy;
mod discharge_time;
mod discharge_power;
mod isolation_limit;
mod y_energy;
mod field_levels;
mod field_known;
mod field_outside;
mod field_guideline;
mod field_recommendation;
mod field_implants;
mod price_known;

use physics::units::{Dimension, show_both};

use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::field::FieldPoint;
use crate::design::length::RunLength;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::design::survey::SurveyedFace;
use crate::finding::{Finding, Notes, Place, Verdict};
use crate::given::build::{Maybe, Protection};
use crate::given::parts::{Parts, RunParts};
use crate::work::kit::Kit;

/// Everything a check may read.
#[derive(Clone, Copy, Debug)]
pub struct Designed<'a> {
    /// The build, looked up.
    pub parts: &'a Parts<'a>,
    /// Paths, one for each of `parts.runs`, in the same order.
    pub lengths: &'a [RunLength],
    /// Sizes, one for each of `parts.runs`, in the same order.
    pub sizes: &'a [SizedRun],
    /// Ends: for each run, for each cable, from then to.
    pub ends: &'a [End],
    /// Cuts, one for each of `parts.runs`, in the same order.
    pub cuts: &'a [RunCut],
    /// Surveyed faces, one for each port that has one.
    pub faces: &'a [SurveyedFace],
    /// Plates, one for each port that has one.
    pub plates: &'a [Plate],
    /// Protection, if there is any.
    pub protection: Option<&'a Protected>,
    /// Points whose magnetic field is asked for.
    pub field: &'a [FieldPoint],
    /// The kit.
    pub kit: &'a Kit,
}

/// One run with what was designed for it.
#[derive(Clone, Copy, Debug)]
struct OneRun<'a> {
    /// Its id.
    id: &'a str,
    /// As looked up.
    parts: &'a RunParts<'a>,
    /// Its path.
    length: &'a RunLength,
    /// Its size and heat.
    size: &'a SizedRun,
    /// Its cut.
    cut: &'a RunCut,
}

impl<'a> Designed<'a> {
    /// What was said of the protection, and what came of it.
    fn protected(&self) -> Option<(&'a Protection, &'a Protected)> {
        Some((self.parts.build.protection.as_ref()?, self.protection?))
    }

    /// The runs, each with what was designed for it.
    fn runs(&self) -> impl Iterator<Item = OneRun<'a>> + use<'a> {
        let Designed { parts, lengths, sizes, cuts, .. } = *self;
        parts.runs.iter().zip(lengths).zip(sizes).zip(cuts).map(
            |(((parts, length), size), cut)| OneRun {
                id: &parts.run.id.value,
                parts,
                length,
                size,
                cut,
            },
        )
    }

    /// A number as a person reads it.
    fn show(&self, value: f64, dimension: Dimension) -> String {
        show_both(value, dimension, self.parts.units)
    }
}

impl OneRun<'_> {
    /// Where a value stands, or the run where it is not stated.
    fn at<T>(&self, stated: &Maybe<T>) -> Place {
        stated.as_ref().map_or(self.parts.run.id.at, |s| s.at)
    }
}

/// How a value lies to a limit it may not pass, in words.
fn below(verdict: Verdict, value: f64, limit: f64) -> &'static str {
    match verdict {
        Verdict::Fails => "above",
        _ if at_limit(value, limit) => "at",
        Verdict::Close => "just below",
        Verdict::Holds | Verdict::Unknown => "below",
    }
}

/// How a value lies to a limit it must reach, in words.
fn above(verdict: Verdict, value: f64, limit: f64) -> &'static str {
    match verdict {
        Verdict::Fails => "below",
        _ if at_limit(value, limit) => "at",
        Verdict::Close => "just above",
        Verdict::Holds | Verdict::Unknown => "above",
    }
}

/// Whether a value and its limit are the same number but for rounding.
fn at_limit(value: f64, limit: f64) -> bool {
    (value - limit).abs() <= 1e-6 * limit.abs()
}

impl Check {
    /// A finding of this check.
    fn finding(&self, verdict: Verdict, at: Place, message: String) -> Finding {
        Finding::new(self.code, verdict, at, self.source, message)
    }
}

/// One rule.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Kebab-case code, never reused.
    pub code: &'static str,
    /// The rule in one sentence, for the manual.
    pub rule: &'static str,
    /// Source key, or "common-practice".
    pub source: &'static str,
    /// Judges.
    pub judge: fn(&Check, &Designed<'_>, &mut Notes),
}

/// All checks, in the order of the pipe.
pub const ALL: &[&Check] = &[
    &phase_match::CHECK,
    &length_spread::CHECK,
    &reel_length::CHECK,
    &bend_radius::CHECK,
    &clip_spacing::CHECK,
    &first_clip::CHECK,
    &air_below_limit::CHECK,
    &limit_above_cable::CHECK,
    &conductor_temperature::CHECK,
    &peak_temperature::CHECK,
    &duty_temperature::CHECK,
    &section_length::CHECK,
    &section_hottest::CHECK,
    &terminal_hot::CHECK,
    &band_crosses_limit::CHECK,
    &ageing::CHECK,
    &voltage_drop::CHECK,
    &insulation_voltage::CHECK,
    &cover_colour::CHECK,
    &sleeve_temperature::CHECK,
    &grip_temperature::CHECK,
    &terminal_temperature::CHECK,
    &lug_temperature::CHECK,
    &lug_found::CHECK,
    &lug_conductor::CHECK,
    &lug_family::CHECK,
    &lug_hole::CHECK,
    &palm_width::CHECK,
    &palm_bend::CHECK,
    &palm_bend_radius::CHECK,
    &palm_bend_place::CHECK,
    &terminal_clearance::CHECK,
    &palm_wall::CHECK,
    &terminal_creepage::CHECK,
    &room_above::CHECK,
    &crimp_die::CHECK,
    &strip_length::CHECK,
    &sleeve_found::CHECK,
    &sleeve_passes::CHECK,
    &sleeve_shrinks::CHECK,
    &sleeve_covers::CHECK,
    &sleeve_off_palm::CHECK,
    &sleeve_adhesive::CHECK,
    &grip_found::CHECK,
    &grip_clamps_least::CHECK,
    &grip_clamps_most::CHECK,
    &grip_thread::CHECK,
    &grip_pitch::CHECK,
    &grip_hold::CHECK,
    &straight_after_grip::CHECK,
    &straight_after_lug::CHECK,
    &screen_landed::CHECK,
    &screen_grip::CHECK,
    &screen_strip::CHECK,
    &bolt_thread::CHECK,
    &bolt_head::CHECK,
    &tool_access::CHECK,
    &bolt_engagement::CHECK,
    &bolt_bottoms::CHECK,
    &washer_fits::CHECK,
    &lug_torque::CHECK,
    &torque_enough::CHECK,
    &preload_kept::CHECK,
    &preload_hot::CHECK,
    &joint_creep::CHECK,
    &pad_pressure::CHECK,
    &block_material::CHECK,
    &block_bolts::CHECK,
    &survey_consistent::CHECK,
    &survey_determined::CHECK,
    &survey_photo_residual::CHECK,
    &plate_bolt_engagement::CHECK,
    &plate_bolt_bottoms::CHECK,
    &plate_torque::CHECK,
    &oring_known::CHECK,
    &seal_squeeze::CHECK,
    &seal_fill::CHECK,
    &seal_stretch::CHECK,
    &groove_width::CHECK,
    &groove_depth::CHECK,
    &seal_load::CHECK,
    &seal_temperature::CHECK,
    &plate_layout::CHECK,
    &plate_fit::CHECK,
    &groove_on_land::CHECK,
    &groove_radius::CHECK,
    &ring_length::CHECK,
    &grip_spanner_room::CHECK,
    &grip_wall::CHECK,
    &plate_edge_distance::CHECK,
    &plate_thickness::CHECK,
    &plate_gap::CHECK,
    &plate_one_way::CHECK,
    &plate_kept::CHECK,
    &block_layout::CHECK,
    &block_fit::CHECK,
    &block_wall::CHECK,
    &block_creepage::CHECK,
    &protection_missing::CHECK,
    &fuses::CHECK,
    &fuse_carries::CHECK,
    &fuse_peak::CHECK,
    &fuse_voltage::CHECK,
    &fuse_breaking::CHECK,
    &fuse_clears::CHECK,
    &fuse_cable_withstand::CHECK,
    &fuse_overload::CHECK,
    &fuse_duty::CHECK,
    &fuse_guards::CHECK,
    &overload_limit::CHECK,
    &trip_peak::CHECK,
    &contactor_known::CHECK,
    &contactor_carries::CHECK,
    &contactor_voltage::CHECK,
    &contactor_breaks::CHECK,
    &contactor_closes::CHECK,
    &precharge_left::CHECK,
    &precharge_energy::CHECK,
    &discharge_time::CHECK,
    &discharge_power::CHECK,
    &isolation_limit::CHECK,
    &y_energy::CHECK,
    &field_known::CHECK,
    &field_outside::CHECK,
    &field_guideline::CHECK,
    &field_recommendation::CHECK,
    &field_implants::CHECK,
    &price_known::CHECK,
];

/// Runs all checks.
pub fn judge(designed: &Designed<'_>, notes: &mut Notes) {
    for check in ALL {
        (check.judge)(check, designed, notes);
    }
    // A rule that is kept needs no advice.
    for finding in notes.findings.iter_mut().filter(|f| f.verdict == Verdict::Holds) {
        finding.hint = None;
    }
}

#[cfg(test)]
mod tests {
    use super::marked::{BASE, planned};
    use super::*;
    use crate::given::shelf_read::standard;

    fn is_known(key: &str) -> bool {
        standard().sources.iter().any(|s| s.key == key)
    }

    #[test]
    fn codes_are_kebab_case_and_not_reused() {
        for (at, check) in ALL.iter().enumerate() {
            let kebab = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(check.code.chars().all(kebab), "{}", check.code);
            assert!(ALL[..at].iter().all(|c| c.code != check.code), "{}", check.code);
        }
    }

    #[test]
    fn every_source_named_is_in_the_list_of_sources() {
        let plan = planned(BASE);
        let mut unknown: Vec<&str> = ALL.iter().map(|c| c.source).collect();
        unknown.extend(plan.findings.iter().map(|f| f.source));
        unknown.extend(plan.worked.iter().map(|w| w.source));
        unknown.retain(|key| !is_known(key));
        assert!(unknown.is_empty(), "{unknown:?}");
    }
}
