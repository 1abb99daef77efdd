//! Protection of the DC side: fuse, fault, pre-charge, discharge, isolation.
//!
//! The greatest fault is a short just behind the fuse, with nothing but the source in its loop; the least
//! is one at the far end of the run, with the cable both ways at its limit. The fuse has to break both.

use super::branch::{self, Branch, Fed};
use super::circuits::{Circuit, circuits};
use super::contactor;
use super::coordinate::{
    Coordination, EVER_S, Told, Trip, bears, behind, coordinate, copper_mm2, withstand_a2s,
};
use super::duty;
use super::fuse::{self, Asked};
use crate::given::shelf::{Contactor, Fuse};

/// The DC side, protected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Protected {
    /// The run protected.
    pub run: String,
    /// The fuse.
    pub fuse: Option<Fuse>,
    /// What the fuse may carry where it sits: rating x ambient factor x load share.
    pub fuse_carries_a: Option<f64>,
    /// Ambient factor.
    pub fuse_ambient_factor: Option<f64>,
    /// Continuous and peak current of the run.
    pub current_a: Option<f64>,
    /// Fault just behind the fuse, the cable not in its loop: the greatest.
    pub fault_near: Option<Fault>,
    /// Fault at the far end of the run, the cable at its limit: the least.
    pub fault: Option<Fault>,
    /// Joule integral the cable withstands.
    pub cable_withstand_a2s: Option<f64>,
    /// Pre-charge.
    pub precharge: Option<Precharge>,
    /// Time for the discharge resistor to bring the link under 60 V.
    pub discharge_s: Option<f64>,
    /// Discharge by that resistor.
    pub discharge: Option<Discharge>,
    /// Least isolation resistance of the joined system.
    pub isolation_ohm: Option<f64>,
    /// Energy in the Y-capacitors at the highest voltage.
    pub y_energy_j: Option<f64>,
    /// What the place asks of the fuse.
    pub asked: Asked,
    /// Fuse, cable, fault and load laid over each other.
    pub coordination: Option<Coordination>,
    /// What the control does against overload, where it is stated whole.
    pub trip: Option<Trip>,
    /// The main contactor, if one is named.
    pub contactor: Option<Contactor>,
    /// What the place asks of it.
    pub contactor_asked: contactor::Asked,
    /// Circuits and what insulation each must keep.
    pub circuits: Vec<Circuit>,
    /// Further fused circuits.
    pub branches: Vec<Branch>,
}

/// The link's discharge through the resistor across it.
#[derive(Clone, Debug, PartialEq)]
pub struct Discharge {
    /// The resistor.
    pub resistance_ohm: f64,
    /// Time constant.
    pub time_constant_s: f64,
    /// What it turns into heat for as long as the pack is on.
    pub power_w: f64,
    /// Seconds and volts on the link.
    pub curve: Vec<(f64, f64)>,
}

/// A short circuit at the end of the run.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Loop resistance: source, and cable both ways where the fault is behind it.
    pub resistance_ohm: f64,
    /// Loop inductance.
    pub inductance_h: f64,
    /// Prospective current.
    pub prospective_a: f64,
    /// Time constant.
    pub time_constant_s: f64,
}

impl Fault {
    /// The loop it flows in.
    pub fn as_loop(&self) -> Loop {
        Loop {
            voltage_v: self.prospective_a * self.resistance_ohm,
            resistance_ohm: self.resistance_ohm,
            inductance_h: self.inductance_h,
        }
    }
}

/// A pre-charge.
#[derive(Clone, Debug, PartialEq)]
pub struct Precharge {
    /// Resistor.
    pub resistance_ohm: f64,
    /// Link capacitance.
    pub capacitance_f: f64,
    /// What it is charged from.
    pub voltage_v: f64,
    /// Energy the resistor takes: of a full charge, or until the contactor closes where a discharge resistor draws on.
    pub energy_j: f64,
    /// Peak power.
    pub peak_w: f64,
    /// Peak current.
    pub peak_a: f64,
    /// Time constant.
    pub time_constant_s: f64,
    /// When the contactor closes.
    pub close_s: f64,
    /// Voltage difference left then.
    pub left_v: f64,
    /// Of that, what stands for ever: the discharge resistor draws through the pre-charge resistor.
    pub standing_v: f64,
    /// Seconds and volts on the link.
    pub curve: Vec<(f64, f64)>,
}

use physics::laws::fault::Loop;
use physics::laws::fuse::{CAUTIOUS, ambient_factor};
use physics::laws::isolation;
use physics::laws::{precharge, withstand};
use physics::units::{Dimension, show_both};

use super::length::RunLength;
use super::settle::SizedRun;
use crate::finding::{About, Finding, Notes, Quantity, Verdict, Worked};
use crate::given::build::{BranchGiven, Carries, Lie, Maybe, Protection};
use crate::given::parts::{Parts, RunParts};

/// Voltage that a discharged link may keep (UN R100).
pub const TOUCH_V: f64 = isolation::TOUCH_DC_V_MAX;

/// Chooses the protection.
pub fn choose(
    parts: &Parts<'_>,
    sizes: &[SizedRun],
    lengths: &[RunLength],
    notes: &mut Notes,
) -> Option<Protected> {
    let given = parts.build.protection.as_ref()?;
    let index = protected_run(parts, given, notes)?;
    let place = Place {
        parts,
        given,
        run: &parts.runs[index],
        size: sizes.get(index)?,
        length: lengths.get(index)?,
    };
    let mut protected =
        Protected { run: place.run.run.id.value.clone(), ..Protected::default() };

    place.faults(&mut protected, notes);
    protected.cable_withstand_a2s = place.withstand_a2s(notes);
    let driven_a = place.window(duty::LONG_S).map(|w| w.1);
    protected.current_a = value(&place.run.run.current_a_rms).or(driven_a).filter(|a| *a > 0.0);
    protected.asked = place.asked(&protected, notes);
    protected.fuse = place.fuse(&protected.asked, notes);
    place.load(&mut protected, notes);
    place.coordinate(&mut protected, notes);

    place.link(&mut protected, notes);
    place.contactor(&mut protected);
    let fuses = parts.branch_fuses.iter().copied();
    protected.branches = given
        .branches
        .iter()
        .zip(fuses)
        .map(|(branch, fuse)| branch::protect(&place.feeds(branch, fuse, &protected), notes))
        .collect();
    Some(protected)
}

fn value(maybe: &Maybe<f64>) -> Option<f64> {
    maybe.as_ref().map(|m| m.value)
}

/// A value above zero; the reader has no opinion on zero ohm.
fn above_zero(maybe: &Maybe<f64>) -> Option<f64> {
    value(maybe).filter(|v| *v > 0.0)
}

/// Which run is protected: the one named, or the only DC run there is.
fn protected_run(parts: &Parts<'_>, given: &Protection, notes: &mut Notes) -> Option<usize> {
    let dc = |r: &RunParts<'_>| r.carries == Carries::Dc;
    if let Some(named) = &given.run {
        let found = parts.runs.iter().position(|r| r.run.id.value == named.value);
        if let Some(index) = found.filter(|i| dc(&parts.runs[*i])) {
            return Some(index);
        }
        let message = match found {
            Some(_) => format!("run {} carries phases, which no fuse protects", named.value),
            None => format!("there is no run `{}` to protect", named.value),
        };
        let known: Vec<&str> =
            parts.runs.iter().filter(|r| dc(r)).map(|r| r.run.id.value.as_str()).collect();
        notes.find(
            Finding::new(
                "protection-run",
                Verdict::Fails,
                named.at,
                "common-practice",
                message,
            )
            .hint(format!("name a DC run: {}", known.join(", "))),
        );
        return None;
    }
    let mut runs = (0..parts.runs.len()).filter(|i| dc(&parts.runs[*i]));
    match (runs.next(), runs.next()) {
        (Some(only), None) => {
            notes.assume(
                "the run the fuse protects",
                &parts.runs[only].run.id.value,
                "it is the only DC run",
                "protection.run",
            );
            Some(only)
        }
        (first, _) => {
            let message = match first {
                Some(_) => "there are several DC runs, and it is not stated which is protected",
                None => "there is no DC run to protect",
            };
            notes.find(
                Finding::new(
                    "protection-run",
                    Verdict::Unknown,
                    given.at,
                    "common-practice",
                    message.to_owned(),
                )
                .hint("name it: run = \"...\"")
                .safety(),
            );
            None
        }
    }
}

/// The run protected and what is said about it.
struct Place<'a> {
    parts: &'a Parts<'a>,
    given: &'a Protection,
    run: &'a RunParts<'a>,
    size: &'a SizedRun,
    length: &'a RunLength,
}

impl Place<'_> {
    fn about(&self) -> About {
        About::run(&self.run.run.id.value)
    }

    fn work(
        &self,
        notes: &mut Notes,
        what: &str,
        value: Quantity,
        law: &'static str,
        inputs: Vec<(&'static str, Quantity)>,
        source: &'static str,
    ) {
        let about = self.about();
        notes.work(Worked { what: what.to_owned(), about, value, law, inputs, source });
    }

    /// Loop length one way: the path, and the ways inside where known.
    fn one_way_m(&self) -> Option<f64> {
        let inside: f64 = self.length.inside_mm.iter().flatten().sum();
        self.length.path_mm.map(|path| (path + inside) / 1000.0)
    }

    fn faults(&self, protected: &mut Protected, notes: &mut Notes) {
        let Some(volts) = self.parts.voltage_v_max.filter(|v| *v > 0.0) else { return };
        let Some(source_ohm) = above_zero(&self.given.source_resistance_ohm) else { return };
        let source_h = value(&self.given.source_inductance_h).filter(|l| *l >= 0.0);
        if source_h.is_none() {
            notes.assume(
                "inductance of the source",
                "0 H",
                "not stated; the fault current then rises faster than it will",
                "protection.source-inductance",
            );
        }
        let source_h = source_h.unwrap_or(0.0);
        let near =
            Loop { voltage_v: volts, resistance_ohm: source_ohm, inductance_h: source_h };
        protected.fault_near = Some(self.note_fault(&near, "greatest fault current", notes));
        let (Some(cable), Some(one_way_m)) = (&self.size.cable, self.one_way_m()) else {
            return;
        };
        let spacing_mm = match self.run.lie {
            Lie::Flat | Lie::Trefoil => cable.diameter_mm(),
            Lie::Spaced | Lie::Vertical => 2.0 * cable.diameter_mm(),
        };
        let far = behind(near, cable, one_way_m, spacing_mm);
        protected.fault = Some(self.note_fault(&far, "least fault current", notes));
    }

    fn note_fault(&self, fault: &Loop, what: &str, notes: &mut Notes) -> Fault {
        let inputs = vec![
            ("V", Quantity::new(fault.voltage_v, Dimension::Voltage)),
            ("R", Quantity::new(fault.resistance_ohm, Dimension::Resistance)),
            ("L", Quantity::new(fault.inductance_h, Dimension::Inductance)),
        ];
        let amperes = Quantity::new(fault.prospective_a(), Dimension::Current);
        self.work(notes, what, amperes, "I = V / R, rising with L/R", inputs, "exact");
        Fault {
            resistance_ohm: fault.resistance_ohm,
            inductance_h: fault.inductance_h,
            prospective_a: fault.prospective_a(),
            time_constant_s: fault.time_constant_s(),
        }
    }

    /// What the cable withstands from its limit to the short-circuit limit of its insulation.
    fn withstand_a2s(&self, notes: &mut Notes) -> Option<f64> {
        let cable = self.size.cable.as_ref()?;
        let (withstand, limit_c) = withstand_a2s(self.parts, cable)?;
        self.work(
            notes,
            "Joule integral the cable withstands",
            Quantity::new(withstand, Dimension::Joule),
            "k2 S2, k = 226 sqrt(ln((Tf + 234.5) / (Ti + 234.5)))",
            vec![
                ("S", Quantity::new(copper_mm2(cable), Dimension::Area)),
                ("Ti", Quantity::new(cable.limit_c, Dimension::Temperature)),
                ("Tf", Quantity::new(limit_c, Dimension::Temperature)),
            ],
            "iec-60949",
        );
        Some(withstand)
    }

    /// How long the cable bears what, once its rating is known.
    fn bears(&self, short_a2s: Option<f64>) -> Option<withstand::Cable> {
        let (cable, heat) = (self.size.cable.as_ref()?, self.size.heat.as_ref()?);
        bears(self.parts, cable, short_a2s?, (heat.rating_a, heat.air_c, heat.limit_c))
    }

    /// What the run carries, by how long: as stated, or as driven.
    fn loads(&self, protected: &Protected) -> Vec<(f64, f64, Option<String>)> {
        if let Some(carried) = &self.size.carried {
            let window = |w: &duty::Window| (w.seconds, w.rms_a, Some(w.stretch.clone()));
            return carried.windows.iter().map(window).collect();
        }
        let peak = protected.asked.peak.map(|(amps, seconds)| (seconds, amps, None));
        let ever = protected.current_a.map(|amps| (EVER_S, amps, None));
        peak.into_iter().chain(ever).collect()
    }

    /// How often the fuse bears its peaks.
    fn cycles(&self, notes: &mut Notes) -> f64 {
        if let Some(cycles) = &self.given.fuse_cycles {
            return f64::from(cycles.value);
        }
        notes.assume(
            "how often the fuse bears its peaks",
            "10 000",
            "some three hard pulls on each of three thousand days; a fuse ages with each",
            "protection.fuse-cycles",
        );
        CYCLES
    }

    fn trip(&self) -> Option<Trip> {
        let current_a = above_zero(&self.given.trip_a)?;
        Some(Trip { current_a, seconds: above_zero(&self.given.trip_s)? })
    }

    /// Fuse, cable, faults and load on one sheet.
    fn coordinate(&self, protected: &mut Protected, notes: &mut Notes) {
        protected.trip = self.trip();
        let Some(fuse) = &protected.fuse else { return };
        let coordination = coordinate(&Told {
            name: &protected.run,
            fuse,
            air_c: protected.asked.air_c,
            cable: self.bears(protected.cable_withstand_a2s),
            near: protected.fault_near.as_ref().map(Fault::as_loop),
            far: protected.fault.as_ref().map(Fault::as_loop),
            loads: self.loads(protected),
            cycles: self.cycles(notes),
            trip: protected.trip,
        });
        if let Some(from_a) =
            coordination.as_ref().and_then(|c| c.guard.as_ref()).and_then(|g| g.from_a)
        {
            self.work(
                notes,
                "current from which the fuse protects the cable",
                Quantity::new(from_a, Dimension::Current),
                "where the clearing curve of the slowest fuse crosses what the cable bears",
                vec![("In", Quantity::new(fuse.rated_a, Dimension::Current))],
                "iec-60364-4-43",
            );
        }
        protected.coordination = coordination;
    }

    /// What a branch is fed by.
    fn feeds<'b>(
        &'b self,
        branch: &'b BranchGiven,
        fuse: (bool, Option<&'b Fuse>),
        main: &'b Protected,
    ) -> Fed<'b> {
        let main_class = main.fuse.as_ref().map(|f| f.class.as_str());
        Fed {
            parts: self.parts,
            branch,
            fuse,
            family: self.size.cable.as_ref().map(|c| c.family.as_str()),
            near: main.fault_near.as_ref().map(Fault::as_loop),
            class: self.given.fuse_class.as_ref().map(|c| c.value.as_str()).or(main_class),
            air_c: self.run.air_c,
            fuse_air_c: main.asked.air_c,
            cycles: self.given.fuse_cycles.as_ref().map_or(CYCLES, |c| f64::from(c.value)),
        }
    }

    /// The main contactor and what it meets.
    fn contactor(&self, protected: &mut Protected) {
        let near = protected.fault_near.as_ref();
        let breaks_a = || {
            contactor::breaks_a(protected.fuse.as_ref()?, protected.trip?, near?.prospective_a)
        };
        let closes_a = || Some(protected.precharge.as_ref()?.left_v / near?.resistance_ohm);
        protected.contactor_asked = contactor::Asked {
            current_a: protected.current_a,
            loads: protected.coordination.as_ref().map_or_else(Vec::new, |c| c.loads.clone()),
            voltage_v_max: self.parts.voltage_v_max.filter(|v| *v > 0.0),
            breaks_a: breaks_a(),
            closes_a: closes_a(),
        };
        protected.contactor = self.parts.contactor.cloned();
    }

    /// A window of the duty and its greatest rms, where the run states no current.
    fn window(&self, seconds: f64) -> Option<(f64, f64)> {
        let window = self.size.carried.as_ref()?.window(seconds)?;
        Some((window.seconds, window.rms_a))
    }

    fn asked(&self, protected: &Protected, notes: &mut Notes) -> Asked {
        let run = self.run.run;
        let air_c = value(&self.given.fuse_air_c).or_else(|| {
            let air_c = self.run.air_c?;
            notes.assume(
                "air around the fuse",
                &show_both(air_c, Dimension::Temperature, self.parts.units),
                "not stated; taken as the hottest air along the run",
                "protection.fuse-air",
            );
            Some(air_c)
        });
        let peak = above_zero(&run.peak_a_rms).zip(above_zero(&run.peak_s)).or_else(|| {
            self.window(duty::WINDOWS_S[0]).map(|(seconds, rms_a)| (rms_a, seconds))
        });
        Asked {
            current_a: protected.current_a,
            peak,
            air_c,
            voltage_v_max: self.parts.voltage_v_max.filter(|v| *v > 0.0),
            prospective_a_max: protected.fault_near.as_ref().map(|f| f.prospective_a),
            prospective_a_min: protected.fault.as_ref().map(|f| f.prospective_a),
            cable_rating_a: self.size.heat.as_ref().map(|h| h.rating_a),
            cable_withstand_a2s: protected.cable_withstand_a2s,
            is_tripped: self.trip().is_some(),
        }
    }

    /// The fuse named, or the smallest that gives what is asked.
    fn fuse(&self, asked: &Asked, notes: &mut Notes) -> Option<Fuse> {
        if let Some(named) = self.parts.fuse {
            return Some(named.clone());
        }
        // Without the current or the voltage any fuse would be a guess; a check says what is missing.
        if self.parts.fuse_missing || asked.current_a.is_none() || asked.voltage_v_max.is_none()
        {
            return None;
        }
        let fuses = &self.parts.shelf.fuses;
        let class = match &self.given.fuse_class {
            Some(class) => class.value.clone(),
            None => {
                let class = usual_class(fuses, asked)?;
                notes.assume(
                    "class of the main fuse",
                    &class,
                    "breaks overloads as well as short circuits, so the fuse protects the cable alone",
                    "protection.fuse-class",
                );
                class
            }
        };
        fuse::smallest(fuses, &class, asked).cloned()
    }

    /// What the fuse carries where it sits.
    fn load(&self, protected: &mut Protected, notes: &mut Notes) {
        let (Some(fuse), Some(air_c)) = (&protected.fuse, protected.asked.air_c) else {
            return;
        };
        let factor = ambient_factor(air_c, CAUTIOUS);
        let share = fuse::load_share(fuse);
        if share < 1.0 {
            notes.assume(
                "continuous load of a bolt-in fuse",
                &show_both(share, Dimension::Ratio, self.parts.units),
                "of its rating, common practice, no source",
                "protection.fuse",
            );
        }
        let carries = fuse::carries_a(fuse, air_c);
        protected.fuse_ambient_factor = Some(factor);
        protected.fuse_carries_a = Some(carries);
        self.work(
            notes,
            "current the fuse carries where it sits",
            Quantity::new(carries, Dimension::Current),
            "I = In x sqrt((a - T) / (a - T0)) x share, a = 130 degC, T0 = 25 degC",
            vec![
                ("In", Quantity::new(fuse.rated_a, Dimension::Current)),
                ("T", Quantity::new(air_c, Dimension::Temperature)),
                ("share", Quantity::new(share, Dimension::Ratio)),
            ],
            "fuse-guide",
        );
    }

    /// The DC link: pre-charge, discharge, isolation, Y-capacitors.
    fn link(&self, protected: &mut Protected, notes: &mut Notes) {
        let Some(volts) = self.parts.voltage_v_max.filter(|v| *v > 0.0) else { return };
        protected.circuits = circuits(self.parts, volts);
        if let Some(joined) = protected.circuits.iter().find(|c| c.governs) {
            protected.isolation_ohm = Some(joined.least_ohm);
            let law = match joined.ohm_per_v < 500.0 {
                true => "R = 100 ohm/V x V, the AC side protected so that nobody meets it",
                false => "R = 500 ohm/V x V, DC and AC joined through the inverter",
            };
            self.work(
                notes,
                "least isolation resistance of the joined system",
                Quantity::new(joined.least_ohm, Dimension::Resistance),
                law,
                vec![("V", Quantity::new(volts, Dimension::Voltage))],
                "un-r100",
            );
        }
        protected.y_energy_j = value(&self.given.y_capacitance_f)
            .filter(|c| *c >= 0.0)
            .map(|c| isolation::energy_j(c, volts));
        let Some(capacitance_f) = above_zero(&self.given.capacitance_f) else { return };
        if let Some(ohm) = above_zero(&self.given.discharge_ohm) {
            let seconds = precharge::bleed_time_s(capacitance_f, ohm, volts, TOUCH_V);
            protected.discharge_s = Some(seconds);
            protected.discharge = Some(discharge(capacitance_f, ohm, volts, seconds));
            self.work(
                notes,
                "time to discharge the link",
                Quantity::new(seconds, Dimension::Time),
                "t = R C ln(V / 60 V)",
                vec![
                    ("R", Quantity::new(ohm, Dimension::Resistance)),
                    ("C", Quantity::new(capacitance_f, Dimension::Capacitance)),
                    ("V", Quantity::new(volts, Dimension::Voltage)),
                ],
                "un-r100",
            );
        }
        protected.precharge = self.precharge(volts, capacitance_f, notes);
    }

    fn precharge(
        &self,
        voltage_v: f64,
        capacitance_f: f64,
        notes: &mut Notes,
    ) -> Option<Precharge> {
        let resistance_ohm = above_zero(&self.given.precharge_ohm)?;
        let across_ohm = above_zero(&self.given.discharge_ohm);
        let law = precharge::Precharge { capacitance_f, voltage_v, resistance_ohm, across_ohm };
        let tau_s = law.time_constant_s();
        let close_s = above_zero(&self.given.precharge_s).unwrap_or_else(|| {
            let close_s = precharge::COMPLETE_TIME_CONSTANTS * tau_s;
            notes.assume(
                "time until the main contactor closes",
                &show_both(close_s, Dimension::Time, self.parts.units),
                "five time constants, when a pre-charge counts as complete",
                "protection.precharge-time",
            );
            close_s
        });
        const POINTS: u32 = 48;
        let last_s = close_s.max(precharge::COMPLETE_TIME_CONSTANTS * tau_s);
        let curve = (0..=POINTS)
            .map(|k| {
                let t = last_s * f64::from(k) / f64::from(POINTS);
                (t, law.voltage_at_v(t))
            })
            .collect();
        let energy_j = law.energy_j().max(law.energy_by_j(close_s));
        let resistance = Quantity::new(resistance_ohm, Dimension::Resistance);
        let capacitance = Quantity::new(capacitance_f, Dimension::Capacitance);
        let volts = Quantity::new(voltage_v, Dimension::Voltage);
        self.work(
            notes,
            "energy of one pre-charge",
            Quantity::new(energy_j, Dimension::Energy),
            match across_ohm {
                None => "E = C V2 / 2, whatever the resistor",
                Some(_) => {
                    "C V2 / 2 of the link, and what the discharge resistor draws through it meanwhile"
                }
            },
            vec![("C", capacitance), ("V", volts)],
            "exact",
        );
        let left_v = voltage_v - law.voltage_at_v(close_s);
        let standing_v = voltage_v - law.settles_v();
        self.work(
            notes,
            "voltage across the contactor when it closes",
            Quantity::new(left_v, Dimension::Voltage),
            match across_ohm {
                None => "v = V exp(-t / R C)",
                Some(_) => "v = V - V B / (R + B) (1 - exp(-t (R + B) / (R B C)))",
            },
            vec![
                ("V", volts),
                ("R", resistance),
                ("C", capacitance),
                ("t", Quantity::new(close_s, Dimension::Time)),
            ],
            "exact",
        );
        Some(Precharge {
            resistance_ohm,
            capacitance_f,
            voltage_v,
            energy_j,
            peak_w: law.peak_power_w(),
            peak_a: law.peak_current_a(),
            time_constant_s: tau_s,
            close_s,
            left_v,
            standing_v,
            curve,
        })
    }
}

/// How often a fuse bears its peaks, where the build does not say.
const CYCLES: f64 = 10_000.0;

fn discharge(capacitance_f: f64, ohm: f64, volts: f64, touch_s: f64) -> Discharge {
    const POINTS: u32 = 48;
    let time_constant_s = ohm * capacitance_f;
    // Until a while after it may be touched.
    let last_s = (1.25 * touch_s).max(0.5 * time_constant_s);
    let point = |k| {
        let t = last_s * f64::from(k) / f64::from(POINTS);
        (t, volts * libm::exp(-t / time_constant_s)) // v = V exp(-t/RC)
    };
    Discharge {
        resistance_ohm: ohm,
        time_constant_s,
        power_w: volts * volts / ohm,
        curve: (0..=POINTS).map(point).collect(),
    }
}

/// The first class on the shelf that breaks overloads and is made for the voltage.
fn usual_class(fuses: &[Fuse], asked: &Asked) -> Option<String> {
    let fits = |f: &&Fuse| {
        fuse::breaks_overload(f) && asked.voltage_v_max.is_none_or(|v| v <= f.voltage_v_dc)
    };
    fuses.iter().find(fits).or_else(|| fuses.first()).map(|f| f.class.clone())
}

#[cfg(test)]
mod tests {
    use super::Protected;
    use crate::checks::marked::{BASE, check, merge, planned};

    #[track_caller]
    fn protected(patch: &str) -> Protected {
        planned(&merge(BASE, patch)).protection.expect("the DC run is protected")
    }

    #[test]
    fn the_faults_frame_what_the_fuse_meets() {
        let p = protected("");
        let (near, far) = (p.fault_near.unwrap(), p.fault.unwrap());
        // 403 V / 85 mohm just behind the fuse.
        assert!((near.prospective_a - 403.0 / 0.085).abs() < 1e-6);
        // 2/0 AWG by ASTM B258 with 5 % lay, 0.2685 ohm/km, both ways of 3.826 m at 125 degC (R/R20 359.5/254.5).
        let cable_ohm = 2.0 * 3.826 * 0.2685e-3 * 359.5 / 254.5;
        assert!(
            (far.resistance_ohm - 0.085 - cable_ohm).abs() < 1e-9,
            "{}",
            far.resistance_ohm
        );
        assert!(near.time_constant_s < far.time_constant_s);
        assert!(far.inductance_h > near.inductance_h);
    }

    #[test]
    fn val_the_link_of_620_uf() {
        // 620 uF through 47 ohm with 3.3 kohm across, stepped with Runge-Kutta outside this program: 51.138 J in the
        // resistor and 6.0358 V left after 200 ms, 5.6591 V of it by the divider; tau 47 x 3300 / 3347 ohm x 620 uF =
        // 28.731 ms. Without the discharge resistor C V2 / 2 = 50.35 J. 3.3 kohm to 60 V: 3.897 s.
        let p = protected("");
        let precharge = p.precharge.unwrap();
        assert!((precharge.energy_j - 51.138).abs() < 0.001);
        assert!((precharge.time_constant_s - 0.028_731).abs() < 1e-6);
        assert!((precharge.left_v - 6.0358).abs() < 1e-3);
        assert!((precharge.standing_v - 5.6591).abs() < 1e-3);
        let alone = protected("[protection]\ndischarge-resistance = absent").precharge.unwrap();
        assert!((alone.energy_j - 50.35).abs() < 0.01 && (alone.left_v - 0.4213).abs() < 1e-3);
        assert!((p.discharge_s.unwrap() - 3.897).abs() < 1e-3);
        // UN R100: 500 ohm/V where DC and AC are joined.
        assert_eq!(p.isolation_ohm, Some(403.0 * 500.0));
        let curve = &precharge.curve;
        assert!(curve.len() == 49 && curve[0] == (0.0, 0.0) && curve.is_sorted_by_key(|p| p.1));
    }

    #[test]
    fn the_smallest_fuse_that_does_is_chosen() {
        let fuse = protected("").fuse.unwrap();
        assert_eq!(fuse.row.id, "gR 250 A");
        let less = protected("[run.dc]\ncurrent = \"120 A\"\npeak = \"150 A\"").fuse.unwrap();
        assert!(less.rated_a < fuse.rated_a);
    }

    #[test]
    fn a_class_is_chosen_aloud() {
        let plan = planned(&merge(BASE, "[protection]\nfuse-class = absent"));
        assert_eq!(plan.protection.unwrap().fuse.unwrap().class, "gR");
        assert!(plan.assumed.iter().any(|a| a.what == "class of the main fuse"));
    }

    #[test]
    fn without_a_current_no_fuse_is_guessed() {
        assert_eq!(protected("[run.dc]\ncurrent = absent").fuse, None);
    }

    #[test]
    fn phases_are_not_protected_by_a_fuse() {
        check(
            r#"
            [run.dc]   #! unknown protection-missing
            [protection]
            run = "phases"   #! fails protection-run
            "#,
        );
    }

    #[test]
    fn the_only_dc_run_is_meant() {
        let plan = planned(&merge(BASE, "[protection]\nrun = absent"));
        assert_eq!(plan.protection.unwrap().run, "dc");
    }
}
