//! Every rule the plan is held against, one file a code.
//!
//! A check reads what was designed and notes findings; it changes nothing. [`ALL`] is the one catalogue:
//! the plan runs it, the manual prints it, the tests count it.

#[cfg(test)]
pub(crate) mod marked;
mod phase_match;

use crate::design::cuts::RunCut;
use crate::design::ends::End;
use crate::design::length::RunLength;
use crate::design::plates::Plate;
use crate::design::protect::Protected;
use crate::design::settle::SizedRun;
use crate::finding::Notes;
use crate::given::parts::Parts;

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
    /// Plates, one for each port that has one.
    pub plates: &'a [Plate],
    /// Protection, if there is any.
    pub protection: Option<&'a Protected>,
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
pub const ALL: &[&Check] = &[&phase_match::CHECK];

/// Runs all checks.
pub fn judge(designed: &Designed<'_>, notes: &mut Notes) {
    for check in ALL {
        (check.judge)(check, designed, notes);
    }
}
