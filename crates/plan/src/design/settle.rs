//! The knot: size and heat, settled together.
//!
//! Every run starts at its smallest size; the worst run that breaks a limit moves up one size; repeat.
//! Sizes only go up, so it ends within runs x sizes passes (asserted).

use crate::given::shelf::Cable;

/// A run with its size settled.
#[derive(Clone, Debug, PartialEq)]
pub struct SizedRun {
    /// Run id.
    pub run: String,
    /// What the duty puts through one cable, where the run states no current.
    pub carried: Option<Carried>,
    /// The cable; absent where nothing could be judged.
    pub cable: Option<Cable>,
    /// Heating of the hottest cable; absent where current or air is unknown.
    pub heat: Option<Heat>,
    /// Voltage drop over the run at continuous current, both ways for a DC pair, line to line for phases.
    pub drop_v: Option<f64>,
    /// Loss of the whole run at continuous current.
    pub loss_w: Option<f64>,
    /// How the size came about.
    pub trail: Vec<Pass>,
}

/// Heating of the hottest cable of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Heat {
    /// Which cable is hottest.
    pub cable: String,
    /// Air around it.
    pub air_c: f64,
    /// Limit of the conductor: the cable's class, or the maker's lower limit.
    pub limit_c: f64,
    /// Continuous current.
    pub current_a_rms: f64,
    /// Conductor in steady state; none above the runaway limit.
    pub conductor_c: Option<f64>,
    /// Surface in steady state.
    pub surface_c: Option<f64>,
    /// Ratio of AC to DC resistance of the hottest cable.
    pub ac_ratio: f64,
    /// Loss of the hottest cable.
    pub loss_w_per_m: f64,
    /// Highest continuous current at the limit.
    pub rating_a: f64,
    /// Peak current and how long, if stated.
    pub peak: Option<Peak>,
    /// The conductor over the duty, where the run states no current.
    pub driven: Option<Driven>,
    /// Seconds and conductor temperature while heating from the air's temperature to steady state.
    pub warming: Vec<(f64, f64)>,
    /// Along the run, and what follows; none where it never settles, or of more cables than can be heated so.
    pub profile: Option<Profile>,
}

/// A peak after the steady state.
#[derive(Clone, Debug, PartialEq)]
pub struct Peak {
    /// Current.
    pub current_a_rms: f64,
    /// How long.
    pub seconds: f64,
    /// Conductor at the end of it, starting warm from the continuous current.
    pub conductor_c: f64,
    /// How long until the limit, starting warm; none if it is never reached.
    pub to_limit_s: Option<f64>,
    /// Seconds and conductor temperature from the start of the peak.
    pub curve: Vec<(f64, f64)>,
}

/// One pass of the loop that moved a run up.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    /// Size before.
    pub from: String,
    /// Size after.
    pub to: String,
    /// Why: "conductor 131.2 degC (268 degF) > 125.0 degC (257 degF)".
    pub because: String,
}

use physics::heat::CEILING_C;
use physics::laws::conductor::{Material, resistance_factor};
use physics::laws::drop::{self, Wires};
use physics::units::{Dimension, show_both};

use super::along::Lying;
use super::drive::Course;
use super::duty::{Carried, Duty, carried, duty};
use super::heating::{Course as PeakCourse, Driven, Heating, Rating, Steady};
use super::length::RunLength;
use super::profile::{Asked, Profile, profile};
use super::together::together;
use crate::finding::{About, Finding, Notes, Quantity, Verdict, Worked};
use crate::given::build::{Carries, Maybe};
use crate::given::parts::{Parts, RunParts};

/// Settles the size of every run.
pub fn settle(
    parts: &Parts<'_>,
    lengths: &[RunLength],
    course: Option<&Course>,
    notes: &mut Notes,
) -> Vec<SizedRun> {
    assert_eq!(parts.runs.len(), lengths.len(), "one length a run");
    let mut knots: Vec<Knot<'_>> = parts
        .runs
        .iter()
        .zip(lengths)
        .map(|(run, length)| Knot::start(parts, run, length, course, notes))
        .collect();
    let tried = together(&knots, Knot::tried);
    for (knot, tried) in knots.iter_mut().zip(tried) {
        knot.take(tried);
    }

    // Sizes only go up, so every pass uses up one of these.
    let passes_max: usize = parts.runs.iter().map(|r| r.choice.len()).sum();
    let mut passes = 0;
    while let Some(worst) = worst(&knots) {
        knots[worst].move_up();
        passes += 1;
        assert!(passes <= passes_max, "sizes only go up, so the loop ends");
    }

    let heats = together(&knots, Knot::heat);
    knots.into_iter().zip(heats).map(|(knot, heat)| knot.finish(heat, notes)).collect()
}

/// The run that breaks its limits most and can still move; the first of equals.
fn worst(knots: &[Knot<'_>]) -> Option<usize> {
    let mut worst: Option<(usize, f64)> = None;
    for (index, knot) in knots.iter().enumerate() {
        let Some(breach) = knot.breach.as_ref().filter(|_| knot.can_move()) else { continue };
        if worst.is_none_or(|(_, excess)| excess < breach.excess) {
            worst = Some((index, breach.excess));
        }
    }
    worst.map(|(index, _)| index)
}

/// A limit broken: by how much, and in words.
#[derive(Clone, Debug)]
struct Breach {
    /// Relative: 0.1 is a tenth too much; infinite where nothing settles at all.
    excess: f64,
    because: String,
}

/// One run on its way to a size.
struct Knot<'a> {
    parts: &'a Parts<'a>,
    run: &'a RunParts<'a>,
    length_m: Option<f64>,
    carried: Option<Carried>,
    duty: Option<Duty>,
    /// Index into the run's choice.
    size: usize,
    trial: Option<Trial>,
    breach: Option<Breach>,
    trail: Vec<Pass>,
}

/// A size, tried.
struct Trial {
    heating: Heating,
    limit_c: f64,
    steady: Option<Steady>,
    rating: Option<Rating>,
    peak: Option<PeakCourse>,
    driven: Option<Driven>,
    drop_v: Option<f64>,
    loss_w: Option<f64>,
}

impl<'a> Knot<'a> {
    fn start(
        parts: &'a Parts<'a>,
        run: &'a RunParts<'a>,
        length: &RunLength,
        course: Option<&Course>,
        notes: &mut Notes,
    ) -> Knot<'a> {
        let carried = carried(run, course);
        let inside: f64 = length.inside_mm.iter().flatten().sum();
        Knot {
            parts,
            run,
            length_m: length.path_mm.map(|path| (path + inside) / 1000.0),
            duty: duty(parts, run, carried.as_ref(), notes),
            carried,
            size: 0,
            trial: None,
            breach: None,
            trail: Vec::new(),
        }
    }

    fn can_move(&self) -> bool {
        !self.run.fixed && self.size + 1 < self.run.choice.len()
    }

    fn move_up(&mut self) {
        let breach = self.breach.take().expect("only a run that breaks a limit moves");
        let name = |index: usize| self.run.choice[index].size.to_string();
        let (from, to) = (name(self.size), name(self.size + 1));
        self.trail.push(Pass { from, to, because: breach.because });
        self.size += 1;
        self.take(self.tried());
    }

    /// Notes how a size went; where it could not be tried the last trial stands.
    fn take(&mut self, tried: Option<(Trial, Option<Breach>)>) {
        if let Some((trial, breach)) = tried {
            (self.trial, self.breach) = (Some(trial), breach);
        }
    }

    /// Heats the run at its present size and finds the limit it breaks most; none where there is nothing to heat.
    fn tried(&self) -> Option<(Trial, Option<Breach>)> {
        let (cable, duty) = (self.run.choice.get(self.size)?, self.duty?);
        let lying = Lying::of(self.parts, self.run, duty.air_c, duty.frequency_hz);
        let heating = Heating::of(self.parts, self.run, cable, &lying, self.length_m)?;
        let limit_c = limit_c(self.run, cable.limit_c);
        // No size helps where the air is as hot as the conductor may be; a check says so.
        if limit_c <= duty.air_c {
            return None;
        }
        let steady = heating.steady(duty.current_a);
        // A peak is worth its hundreds of time steps only where the continuous current holds.
        let holds = steady.as_ref().filter(|s| s.conductor_c <= limit_c);
        let peak = duty
            .peak
            .zip(holds)
            .map(|((peak_a, seconds), warm)| heating.peak(warm, peak_a, seconds));
        let driven = self
            .carried
            .as_ref()
            .zip(holds)
            .map(|(carried, warm)| heating.driven(warm, &carried.series));
        // What never settles is judged as warm as it may be.
        let rating = match steady {
            Some(_) => None,
            None => heating.rating(limit_c),
        };
        let warm = steady.as_ref().or(rating.as_ref().map(|r| &r.steady));
        let drop_v = warm.zip(self.length_m).map(|(warm, length_m)| {
            let hottest = warm.ohm_per_m[warm.hottest];
            drop::drop_v(wires(self.run), hottest, length_m, duty.current_a)
        });
        let loss_w = warm.zip(self.length_m).map(|(warm, length_m)| {
            let each = warm.ohm_per_m.iter();
            each.map(|r| drop::loss_w(Wires::One, *r, length_m, duty.current_a)).sum()
        });
        let trial = Trial { heating, limit_c, steady, rating, peak, driven, drop_v, loss_w };
        let breach = self.breach_of(&trial, &duty);
        Some((trial, breach))
    }

    fn breach_of(&self, trial: &Trial, duty: &Duty) -> Option<Breach> {
        let units = self.parts.units;
        let degrees = |c: f64| show_both(c, Dimension::Temperature, units);
        let mut breaches = Vec::new();
        let mut hot = |reached_c: Option<f64>, what: &str| {
            let excess = reached_c.map_or(f64::INFINITY, |c| {
                (c - duty.air_c) / (trial.limit_c - duty.air_c) - 1.0
            });
            if excess > 0.0 {
                let reached = match reached_c {
                    None => "never settles".to_owned(),
                    // Where the laws end the course stops, so the figure is only a lower bound.
                    Some(c) if c > CEILING_C => format!("over {}", degrees(CEILING_C)),
                    Some(c) => degrees(c),
                };
                let because = format!("{what} {reached} > {}", degrees(trial.limit_c));
                breaches.push(Breach { excess, because });
            }
        };
        hot(trial.steady.as_ref().map(|s| s.conductor_c), "conductor");
        if let Some(peak) = &trial.peak {
            hot(Some(peak.end_c), "conductor at the end of the peak");
        }
        if let Some(driven) = &trial.driven {
            hot(Some(driven.hottest_c), &format!("conductor in {}", driven.stretch));
        }
        if let (Some(drop_v), Some(drop_v_max)) =
            (trial.drop_v, drop_v_max(self.parts, self.run))
            && drop_v > drop_v_max
        {
            let volts = |v: f64| show_both(v, Dimension::Voltage, units);
            breaches.push(Breach {
                excess: drop_v / drop_v_max - 1.0,
                because: format!("voltage drop {} > {}", volts(drop_v), volts(drop_v_max)),
            });
        }
        breaches.into_iter().reduce(|a, b| if a.excess >= b.excess { a } else { b })
    }

    fn finish(self, heat: Option<Heat>, notes: &mut Notes) -> SizedRun {
        let id = self.run.run.id.value.clone();
        if let Some(breach) = self.breach.as_ref().filter(|_| !self.run.fixed) {
            notes.find(self.exhausted(breach));
        }
        let choice = self.run.choice.get(self.size);
        // Where even the air is too hot for the insulation no size is better than another.
        let hopeless = self
            .duty
            .zip(choice)
            .is_some_and(|(duty, cable)| limit_c(self.run, cable.limit_c) <= duty.air_c);
        if let (Some(cable), Some(_), None, false) = (choice, self.duty, &self.trial, hopeless)
        {
            notes.find(self.no_cable_data(cable));
        }
        let chosen = choice.filter(|_| self.run.fixed || !hopeless);
        let cable = chosen.map(|c| (*c).clone());
        if let (Some(trial), Some(duty), Some(heat)) = (&self.trial, &self.duty, &heat) {
            self.note_work(trial, duty, heat, notes);
        }
        SizedRun {
            run: id,
            carried: self.carried,
            cable,
            heat,
            drop_v: self.trial.as_ref().and_then(|t| t.drop_v),
            loss_w: self.trial.as_ref().and_then(|t| t.loss_w),
            trail: self.trail,
        }
    }

    fn no_cable_data(&self, cable: &Cable) -> Finding {
        let id = &self.run.run.id.value;
        Finding::new(
            "cable-data",
            Verdict::Unknown,
            self.run.run.id.at,
            "common-practice",
            format!(
                "cable {} of run {id} cannot be heated: its row makes no cable",
                cable.row.id
            ),
        )
        .hint(
            "state diameters, resistance and an insulation that is on the shelf in parts.toml",
        )
        .about(About::run(id))
        .safety()
    }

    fn exhausted(&self, breach: &Breach) -> Finding {
        let id = &self.run.run.id.value;
        let cable = self.run.choice[self.size];
        Finding::new(
            "shelf-exhausted",
            Verdict::Fails,
            self.run.run.id.at,
            "common-practice",
            format!(
                "run {id} finds no cable: the largest on the shelf, {}, still breaks a limit: {}",
                cable.row.id, breach.because
            ),
        )
        .hint(
            "two runs in parallel, a family of a higher temperature class, cooler air, or less current",
        )
        .about(About::run(id))
    }

    fn heat(&self) -> Option<Heat> {
        let (trial, duty) = (self.trial.as_ref()?, self.duty?);
        let rating = trial.rating.clone().or_else(|| trial.heating.rating(trial.limit_c));
        let steady = trial.steady.as_ref();
        let warm = steady.or(rating.as_ref().map(|r| &r.steady))?;
        let profile = self.profile(trial, &duty);
        let peak = duty.peak.zip(steady).map(|((peak_a, seconds), warm)| {
            let again = || trial.heating.peak(warm, peak_a, seconds);
            let course = trial.peak.clone().unwrap_or_else(again);
            let to_limit_s = match &profile {
                Some(profile) => profile.to_limit.warm_s,
                None => trial.heating.time_to_limit_s(warm, peak_a, trial.limit_c),
            };
            Peak {
                current_a_rms: peak_a,
                seconds,
                conductor_c: course.end_c,
                to_limit_s,
                curve: course.curve,
            }
        });
        Some(Heat {
            cable: self
                .run
                .cables
                .get(warm.hottest)
                .map(|c| c.from.clone())
                .unwrap_or_default(),
            air_c: duty.air_c,
            limit_c: trial.limit_c,
            current_a_rms: duty.current_a,
            conductor_c: steady.map(|s| s.conductor_c),
            surface_c: steady.map(|s| s.surface_c),
            ac_ratio: warm.ac_ratio,
            loss_w_per_m: duty.current_a * duty.current_a * warm.ohm_per_m[warm.hottest],
            // Air as hot as the limit leaves nothing to carry.
            rating_a: rating.as_ref().map_or(0.0, |r| r.current_a),
            peak,
            driven: trial.driven.clone(),
            warming: trial.heating.warming(duty.current_a),
            profile,
        })
    }
}

impl Knot<'_> {
    fn profile(&self, trial: &Trial, duty: &Duty) -> Option<Profile> {
        profile(&Asked {
            parts: self.parts,
            run: self.run,
            cable: self.run.choice.get(self.size)?,
            lying: Lying::of(self.parts, self.run, duty.air_c, duty.frequency_hz),
            length_m: self.length_m,
            along: trial.heating.along()?,
            current_a: duty.current_a,
            limit_c: trial.limit_c,
            peak: duty.peak,
            peaked: trial.peak.as_ref().and_then(|p| p.whole.as_ref()),
            series: self.carried.as_ref().map_or(&[], |c| &c.series),
            courses: trial.driven.as_ref().map_or(&[], |d| &d.courses),
        })
    }
}

fn above_zero(maybe: &Maybe<f64>) -> Option<f64> {
    maybe.as_ref().map(|m| m.value).filter(|v| *v > 0.0)
}

/// The conductor limit: the cable's, or the maker's where lower.
fn limit_c(run: &RunParts<'_>, cable_limit_c: f64) -> f64 {
    run.run.limit_c.as_ref().map_or(cable_limit_c, |l| l.value.min(cable_limit_c))
}

/// The drop in volts that is allowed, if it is.
fn drop_v_max(parts: &Parts<'_>, run: &RunParts<'_>) -> Option<f64> {
    let share = above_zero(&run.run.drop_max)?;
    Some(share * parts.voltage_v.or(parts.voltage_v_max)?)
}

/// Which conductors carry the current there and back.
fn wires(run: &RunParts<'_>) -> Wires {
    match run.carries {
        Carries::Dc => Wires::Two,
        Carries::Phases => Wires::Three,
    }
}

/// Writes the workings of one run down, about its hottest cable.
struct Workings<'a> {
    notes: &'a mut Notes,
    about: About,
}

impl Workings<'_> {
    fn add(
        &mut self,
        what: &str,
        value: Quantity,
        law: &'static str,
        inputs: Vec<(&'static str, Quantity)>,
        source: &'static str,
    ) {
        let about = self.about.clone();
        self.notes.work(Worked { what: what.to_owned(), about, value, law, inputs, source });
    }
}

impl Knot<'_> {
    /// Writes down how each number shown came about.
    fn note_work(&self, trial: &Trial, duty: &Duty, heat: &Heat, notes: &mut Notes) {
        let about = About::cable(&self.run.run.id.value, &heat.cable);
        let mut workings = Workings { notes, about };
        let cable = self.run.choice[self.size];
        let warm_c = heat.conductor_c.unwrap_or(heat.limit_c);
        let dc_ohm_per_m =
            cable.resistance_ohm_per_km / 1000.0 * resistance_factor(warm_c, Material::Copper);
        let dc = Quantity::new(1000.0 * dc_ohm_per_m, Dimension::LineResistance);
        let ac =
            Quantity::new(1000.0 * dc_ohm_per_m * heat.ac_ratio, Dimension::LineResistance);
        self.note_loss(trial, duty, heat, [dc, ac], &mut workings);
        self.note_temperatures(heat, &mut workings);
        self.note_drop(trial, heat, ac, &mut workings);
    }

    fn note_loss(
        &self,
        trial: &Trial,
        duty: &Duty,
        heat: &Heat,
        [dc, ac]: [Quantity; 2],
        workings: &mut Workings<'_>,
    ) {
        let q = Quantity::new;
        let cable = self.run.choice[self.size];
        let warm_c = heat.conductor_c.unwrap_or(heat.limit_c);
        workings.add(
            "resistance of the warm conductor",
            dc,
            "R = R20 (234.5 + T) / 254.5",
            vec![
                ("R20", q(cable.resistance_ohm_per_km, Dimension::LineResistance)),
                ("T", q(warm_c, Dimension::Temperature)),
            ],
            "iec-60228",
        );
        workings.add(
            "ratio of AC to DC resistance",
            q(heat.ac_ratio, Dimension::Ratio),
            "skin and proximity effect, Bessel functions and multipoles of all cables of the run",
            vec![
                ("f", q(duty.frequency_hz, Dimension::Frequency)),
                ("R", dc),
                ("conductor", q(cable.conductor_diameter_mm, Dimension::Length)),
                ("axis to axis", q(trial.heating.pitch_mm, Dimension::Length)),
            ],
            "exact",
        );
        workings.add(
            "loss of the hottest cable",
            q(heat.loss_w_per_m, Dimension::LineLoss),
            "P = I2 R",
            vec![("I", q(heat.current_a_rms, Dimension::Current)), ("R", ac)],
            "exact",
        );
    }

    fn note_temperatures(&self, heat: &Heat, workings: &mut Workings<'_>) {
        let q = Quantity::new;
        let cable = self.run.choice[self.size];
        let warm_c = heat.conductor_c.unwrap_or(heat.limit_c);
        if let (Some(conductor_c), Some(surface_c)) = (heat.conductor_c, heat.surface_c) {
            let loss = ("P", q(heat.loss_w_per_m, Dimension::LineLoss));
            let air = ("air", q(heat.air_c, Dimension::Temperature));
            let outside = ("diameter", q(cable.diameter_mm(), Dimension::Length));
            workings.add(
                "surface temperature, steady",
                q(surface_c, Dimension::Temperature),
                "P = convection + radiation at the surface",
                vec![loss, air, outside],
                "churchill-chu-1975",
            );
            workings.add(
                "conductor temperature, steady",
                q(conductor_c, Dimension::Temperature),
                "T = surface + P rho / (2 pi) ln(D / d), layer by layer",
                vec![loss, ("surface", q(surface_c, Dimension::Temperature))],
                "iec-60287-2-1",
            );
        }
        workings.add(
            "continuous rating",
            q(heat.rating_a, Dimension::Current),
            "the current whose loss at the limit the surface just gives off",
            vec![
                ("limit", q(heat.limit_c, Dimension::Temperature)),
                ("air", q(heat.air_c, Dimension::Temperature)),
            ],
            "churchill-chu-1975",
        );
        if let Some(peak) = &heat.peak {
            workings.add(
                "conductor temperature at the end of the peak",
                q(peak.conductor_c, Dimension::Temperature),
                "heat stored = I2 R - heat given off, step by step",
                vec![
                    ("start", q(warm_c, Dimension::Temperature)),
                    ("I", q(peak.current_a_rms, Dimension::Current)),
                    ("t", q(peak.seconds, Dimension::Time)),
                ],
                "iec-60853-2",
            );
        }
    }

    fn note_drop(&self, trial: &Trial, heat: &Heat, ac: Quantity, workings: &mut Workings<'_>) {
        let q = Quantity::new;
        if let (Some(drop_v), Some(loss_w), Some(length_m)) =
            (trial.drop_v, trial.loss_w, self.length_m)
        {
            let length = ("L", q(1000.0 * length_m, Dimension::Length));
            let current = ("I", q(heat.current_a_rms, Dimension::Current));
            let law = match self.run.carries {
                Carries::Dc => "dU = 2 I R L",
                Carries::Phases => "dU = sqrt 3 I R L",
            };
            workings.add(
                "voltage drop of the run",
                q(drop_v, Dimension::Voltage),
                law,
                vec![current, ("R", ac), length],
                "iec-60364-5-52",
            );
            workings.add(
                "loss of the run",
                q(loss_w, Dimension::Power),
                "P = sum(I2 R L) over its cables",
                vec![current, length],
                "exact",
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::checks::marked::{BASE, check, merge, planned};
    use crate::finding::Verdict;

    #[test]
    fn the_shelf_runs_out_aloud() {
        let plan = planned(&merge(BASE, "[run.phases]\ncurrent = \"620 A\"\npeak = \"700 A\""));
        let found = plan.findings.iter().find(|f| f.code == "shelf-exhausted").unwrap();
        assert_eq!(found.verdict, Verdict::Fails);
        assert!(found.message.contains("4/0 AWG") && found.message.contains("conductor"));
        let size = &plan.sizes[0];
        assert_eq!(size.trail.len(), 7, "from 6 AWG to 4/0 AWG");
        assert!(size.heat.is_some());
    }

    #[test]
    fn a_fixed_size_stays() {
        let plan = planned(&merge(BASE, "[run.phases]\nconductor = \"2 AWG\""));
        let size = &plan.sizes[0];
        assert!(size.trail.is_empty());
        assert_eq!(size.cable.as_ref().unwrap().size.to_string(), "2 AWG");
        assert!(!plan.findings.iter().any(|f| f.code == "shelf-exhausted"));
    }

    #[test]
    fn the_drop_alone_moves_a_long_run_up() {
        let patch = "[run.dc]\ncurrent = \"60 A\"\npeak = \"80 A\"\ndrop-max = \"0.1 %\"";
        let plan = planned(&merge(BASE, patch));
        let trail = &plan.sizes[1].trail;
        assert!(trail.last().unwrap().because.starts_with("voltage drop"), "{trail:?}");
    }

    #[test]
    fn the_middle_of_three_flat_cables_is_the_hottest() {
        let heat = planned(BASE).sizes[0].heat.clone().unwrap();
        assert_eq!(heat.cable, "V");
        let trefoil = planned(&merge(BASE, "[run.phases]\nlie = \"trefoil\""));
        assert!(trefoil.sizes[0].heat.as_ref().unwrap().ac_ratio < heat.ac_ratio);
    }

    #[test]
    fn the_curves_start_and_end_where_they_should() {
        let heat = planned(BASE).sizes[0].heat.clone().unwrap();
        let (first, last) = (heat.warming[0], *heat.warming.last().unwrap());
        assert_eq!((heat.warming.len(), first), (25, (0.0, 60.0)));
        let rise = heat.conductor_c.unwrap() - 60.0;
        assert!((last.1 - 60.0) / rise > 0.985, "{last:?}");
        let peak = heat.peak.unwrap();
        assert_eq!(peak.curve.len(), 20);
        assert!((peak.curve[0].1 - heat.conductor_c.unwrap()).abs() < 0.01);
        assert_eq!(*peak.curve.last().unwrap(), (30.0, peak.conductor_c));
    }

    #[test]
    fn the_rating_is_the_current_that_just_reaches_the_limit() {
        let heat = planned(BASE).sizes[0].heat.clone().unwrap();
        let patch = format!(
            "[run.phases]\nconductor = \"2/0 AWG\"\npeak = absent\npeak-time = absent\ncurrent = \"{} A\"",
            heat.rating_a
        );
        let at_rating = planned(&merge(BASE, &patch)).sizes[0].heat.clone().unwrap();
        assert!((at_rating.conductor_c.unwrap() - heat.limit_c).abs() < 0.01);
    }

    #[test]
    fn every_number_shown_is_worked() {
        let plan = planned(BASE);
        for what in [
            "resistance of the warm conductor",
            "ratio of AC to DC resistance",
            "loss of the hottest cable",
            "surface temperature, steady",
            "conductor temperature, steady",
            "continuous rating",
            "conductor temperature at the end of the peak",
            "voltage drop of the run",
            "loss of the run",
        ] {
            assert_eq!(plan.worked.iter().filter(|w| w.what == what).count(), 2, "{what}");
        }
    }

    #[test]
    fn air_too_hot_leaves_no_size_to_choose() {
        let plan = planned(&merge(BASE, "[run.phases]\nair = \"105 degC\""));
        assert!(plan.sizes[0].cable.is_none() && plan.sizes[0].trail.is_empty());
        check("[run.phases]\nconductor = \"2/0 AWG\"");
    }
}
