//! What the plan tells the maker: a check that holds, is close, fails, or cannot be judged yet.

use physics::units::{Dimension, System, show_both};

/// A place in a document, as an editor counts it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, from 1.
    pub line: u32,
    /// Column in characters, from 1.
    pub column: u32,
    /// How many characters it covers.
    pub width: u32,
}

/// How a check came out. The order is worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// The rule is broken.
    Fails,
    /// A value is missing, so the rule cannot be judged.
    Unknown,
    /// Within a tenth of its limit.
    Close,
    /// The rule is kept.
    Holds,
}

impl Verdict {
    /// The word shown everywhere.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Fails => "fails",
            Verdict::Unknown => "unknown",
            Verdict::Close => "close",
            Verdict::Holds => "holds",
        }
    }

    /// Judges a value that may be at most `limit`.
    pub fn at_most(value: f64, limit: f64) -> Verdict {
        if !(value <= limit) {
            Verdict::Fails
        } else if value > limit - 0.1 * limit.abs() {
            Verdict::Close
        } else {
            Verdict::Holds
        }
    }

    /// Judges a value that must be at least `limit`.
    pub fn at_least(value: f64, limit: f64) -> Verdict {
        if !(value >= limit) {
            Verdict::Fails
        } else if value < limit + 0.1 * limit.abs() {
            Verdict::Close
        } else {
            Verdict::Holds
        }
    }

    /// A rule with no margin to speak of: kept or broken.
    pub fn kept(holds: bool) -> Verdict {
        if holds { Verdict::Holds } else { Verdict::Fails }
    }
}

/// A number with what it measures, so that every reader shows it alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number, in the unit its dimension is kept in.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
}

impl Quantity {
    /// A quantity in kept units.
    pub fn new(value: f64, dimension: Dimension) -> Quantity {
        Quantity { value, dimension }
    }

    /// As a person reads it, in both systems.
    pub fn text(&self, system: System) -> String {
        show_both(self.value, self.dimension, system)
    }
}

/// What a finding is about, so that screens and pages can lead there.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct About {
    /// Run id, if it is about a run.
    pub run: Option<String>,
    /// Cable label within the run: "U".
    pub cable: Option<String>,
    /// "device.port", if it is about a port or an end.
    pub port: Option<String>,
}

/// One thing the plan tells the maker.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Kebab-case, never reused.
    pub code: &'static str,
    /// How it came out.
    pub verdict: Verdict,
    /// Where in the build document.
    pub at: Place,
    /// One sentence, no full stop, with the numbers.
    pub message: String,
    /// The value judged.
    pub value: Option<Quantity>,
    /// The limit it is judged against.
    pub limit: Option<Quantity>,
    /// What to do.
    pub hint: Option<String>,
    /// Key of the source of the rule, or "common practice, no source".
    pub source: &'static str,
    /// What it is about.
    pub about: About,
    /// Whether an unknown here keeps the book from being built to.
    pub safety: bool,
}

/// The one side channel of the stages: findings, assumptions and workings gathered in order.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    /// Findings so far.
    pub findings: Vec<Finding>,
    /// What was assumed so far.
    pub assumed: Vec<Assumed>,
    /// Worked numbers so far.
    pub worked: Vec<Worked>,
}

/// A value the maker left out and the program filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// What: "emissivity of the cable surface".
    pub what: String,
    /// The value, as text with its unit.
    pub value: String,
    /// Why this one.
    pub why: String,
    /// What in the document would replace it: "run.phases.emissivity".
    pub key: String,
}

/// A number with the law, inputs and source it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// What the number is: "conductor temperature, steady".
    pub what: String,
    /// What it is about.
    pub about: About,
    /// The number.
    pub value: Quantity,
    /// The relation, written out: "F = T / (K d)".
    pub law: &'static str,
    /// Its inputs in order: name and value.
    pub inputs: Vec<(&'static str, Quantity)>,
    /// Key of the source.
    pub source: &'static str,
}

impl About {
    /// About a run.
    pub fn run(id: &str) -> About {
        About { run: Some(id.to_owned()), ..About::default() }
    }

    /// About a port: "device.port".
    pub fn port(name: &str) -> About {
        About { port: Some(name.to_owned()), ..About::default() }
    }

    /// About one cable of a run.
    pub fn cable(run: &str, cable: &str) -> About {
        About { run: Some(run.to_owned()), cable: Some(cable.to_owned()), port: None }
    }

    /// About one end of a run, or of one of its cables.
    pub fn end(run: &str, cable: Option<&str>, port: &str) -> About {
        About {
            run: Some(run.to_owned()),
            cable: cable.map(str::to_owned),
            port: Some(port.to_owned()),
        }
    }
}

impl Finding {
    /// A bare finding: what came out, where, and in what words.
    pub fn new(
        code: &'static str,
        verdict: Verdict,
        at: Place,
        source: &'static str,
        message: String,
    ) -> Finding {
        Finding {
            code,
            verdict,
            at,
            message,
            value: None,
            limit: None,
            hint: None,
            source,
            about: About::default(),
            safety: false,
        }
    }

    /// With the value judged and its limit, in the unit of `dimension`.
    pub fn judged(mut self, value: f64, limit: f64, dimension: Dimension) -> Finding {
        self.value = Some(Quantity::new(value, dimension));
        self.limit = Some(Quantity::new(limit, dimension));
        self
    }

    /// With what to do.
    pub fn hint(mut self, hint: impl Into<String>) -> Finding {
        self.hint = Some(hint.into());
        self
    }

    /// With what it is about.
    pub fn about(mut self, about: About) -> Finding {
        self.about = about;
        self
    }

    /// Marked so that, while unknown, it keeps the book from being built to.
    pub fn safety(mut self) -> Finding {
        self.safety = true;
        self
    }
}

impl Notes {
    /// Notes a finding.
    pub fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Notes an assumption, once.
    pub fn assume(&mut self, what: &str, value: &str, why: &str, key: &str) {
        let assumed = Assumed {
            what: what.to_owned(),
            value: value.to_owned(),
            why: why.to_owned(),
            key: key.to_owned(),
        };
        if !self.assumed.contains(&assumed) {
            self.assumed.push(assumed);
        }
    }

    /// Notes all that was noted elsewhere.
    pub fn take(&mut self, other: Notes) {
        self.findings.extend(other.findings);
        for assumed in other.assumed {
            if !self.assumed.contains(&assumed) {
                self.assumed.push(assumed);
            }
        }
        self.worked.extend(other.worked);
    }

    /// Notes how a number came about.
    pub fn work(&mut self, worked: Worked) {
        self.worked.push(worked);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_of_the_limit_is_close() {
        assert_eq!(Verdict::at_most(89.0, 100.0), Verdict::Holds);
        assert_eq!(Verdict::at_most(95.0, 100.0), Verdict::Close);
        assert_eq!(Verdict::at_most(100.0, 100.0), Verdict::Close);
        assert_eq!(Verdict::at_most(100.1, 100.0), Verdict::Fails);
        assert_eq!(Verdict::at_most(f64::NAN, 100.0), Verdict::Fails);
        assert_eq!(Verdict::at_least(100.0, 100.0), Verdict::Close);
        assert_eq!(Verdict::at_least(111.0, 100.0), Verdict::Holds);
        assert_eq!(Verdict::at_least(99.0, 100.0), Verdict::Fails);
    }
}
