//! Quantities as people write them, and as people want to read them.
//!
//! Inside the program a quantity is an `f64` in the one unit its [`Dimension`] is kept in, and the
//! name of the variable carries that unit. Text becomes such a number only here, and only here does a
//! number become text, in the metric and the US customary system.
//!
//! Factors: 1 in = 25.4 mm and 1 lbf = 4.448 221 615 260 5 N exactly (international yard and pound).

/// What kind of quantity a number is. The doc of each variant is the unit it is kept in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dimension {
    /// mm
    Length,
    /// mm2
    Area,
    /// kg
    Mass,
    /// kg/km
    MassPerLength,
    /// N m
    Torque,
    /// N
    Force,
    /// N/mm
    LineLoad,
    /// MPa
    Stress,
    /// degC
    Temperature,
    /// K, a difference of two temperatures
    Rise,
    /// A
    Current,
    /// V
    Voltage,
    /// ohm
    Resistance,
    /// ohm/km
    LineResistance,
    /// F
    Capacitance,
    /// H
    Inductance,
    /// Hz
    Frequency,
    /// s
    Time,
    /// J
    Energy,
    /// W
    Power,
    /// W/m
    LineLoss,
    /// W/m2K
    HeatTransfer,
    /// W/mK
    Conductivity,
    /// K m/W
    ThermalResistivity,
    /// m/s
    Speed,
    /// A2s
    Joule,
    /// uT
    FluxDensity,
    /// deg
    Angle,
    /// N m2
    BendingStiffness,
    /// rev/min
    Rotation,
    /// Wb
    FluxLinkage,
    /// kg/m3
    Density,
    /// N/(m/s)
    ForcePerSpeed,
    /// N/(m/s)2
    ForcePerSpeedSquared,
    /// Wh/km
    EnergyPerLength,
    /// 1
    Ratio,
}

/// One way to write a quantity: kept value = written value x `factor` + `offset`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// Accepted spellings, the one we print first.
    pub names: &'static [&'static str],
    /// Kept units in one of these.
    pub factor: f64,
    /// Kept value of zero of these; only temperatures have one.
    pub offset: f64,
}

const fn unit(names: &'static [&'static str], factor: f64) -> Unit {
    Unit { names, factor, offset: 0.0 }
}

const INCH_MM: f64 = 25.4;
const POUND_FORCE_N: f64 = 4.448_221_615_260_5;
const MPH_M_S: f64 = 0.44704;

impl Dimension {
    /// Every dimension there is, in the order of the enumeration.
    pub const ALL: [Dimension; 36] = [
        Dimension::Length,
        Dimension::Area,
        Dimension::Mass,
        Dimension::MassPerLength,
        Dimension::Torque,
        Dimension::Force,
        Dimension::LineLoad,
        Dimension::Stress,
        Dimension::Temperature,
        Dimension::Rise,
        Dimension::Current,
        Dimension::Voltage,
        Dimension::Resistance,
        Dimension::LineResistance,
        Dimension::Capacitance,
        Dimension::Inductance,
        Dimension::Frequency,
        Dimension::Time,
        Dimension::Energy,
        Dimension::Power,
        Dimension::LineLoss,
        Dimension::HeatTransfer,
        Dimension::Conductivity,
        Dimension::ThermalResistivity,
        Dimension::Speed,
        Dimension::Joule,
        Dimension::FluxDensity,
        Dimension::Angle,
        Dimension::BendingStiffness,
        Dimension::Rotation,
        Dimension::FluxLinkage,
        Dimension::Density,
        Dimension::ForcePerSpeed,
        Dimension::ForcePerSpeedSquared,
        Dimension::EnergyPerLength,
        Dimension::Ratio,
    ];

    /// The accepted units; the first is the one the number is kept in.
    #[expect(clippy::too_many_lines, reason = "a flat table, one arm a dimension")]
    pub fn units(self) -> &'static [Unit] {
        match self {
            Dimension::Length => {
                const {
                    &[
                        unit(&["mm"], 1.0),
                        unit(&["cm"], 10.0),
                        unit(&["m"], 1000.0),
                        unit(&["km"], 1.0e6),
                        unit(&["um", "µm"], 1.0e-3),
                        unit(&["in", "inch", "inches", "\""], INCH_MM),
                        unit(&["ft", "foot", "feet", "'"], 12.0 * INCH_MM),
                    ]
                }
            }
            Dimension::Area => {
                const {
                    &[
                        unit(&["mm2", "mm²"], 1.0),
                        unit(&["cm2", "cm²"], 100.0),
                        unit(&["m2", "m²"], 1.0e6),
                        unit(&["in2", "in²"], INCH_MM * INCH_MM),
                        // A circular mil is the area of a circle one thousandth of an inch across.
                        unit(
                            &["kcmil", "MCM"],
                            1000.0 * std::f64::consts::PI / 4.0 * 0.0254 * 0.0254,
                        ),
                    ]
                }
            }
            Dimension::Mass => {
                const { &[unit(&["kg"], 1.0), unit(&["g"], 1e-3), unit(&["lb"], 0.453_592_37)] }
            }
            Dimension::MassPerLength => {
                const { &[unit(&["kg/km", "g/m"], 1.0), unit(&["kg/m"], 1000.0)] }
            }
            Dimension::Torque => {
                const {
                    &[
                        unit(&["N m", "Nm", "N·m"], 1.0),
                        unit(
                            &["lbf in", "lb in", "in lb", "in lbf", "lbf·in"],
                            POUND_FORCE_N * 0.0254,
                        ),
                        unit(&["lbf ft", "lb ft", "ft lb", "ft lbf"], POUND_FORCE_N * 0.3048),
                    ]
                }
            }
            Dimension::Force => {
                const { &[unit(&["N"], 1.0), unit(&["kN"], 1000.0), unit(&["lbf"], POUND_FORCE_N)] }
            }
            Dimension::LineLoad => {
                const { &[unit(&["N/mm", "kN/m"], 1.0), unit(&["lbf/in"], POUND_FORCE_N / INCH_MM)] }
            }
            Dimension::Stress => {
                const {
                    &[
                        unit(&["MPa", "N/mm2"], 1.0),
                        unit(&["GPa"], 1000.0),
                        unit(&["kPa"], 1e-3),
                        unit(&["bar"], 0.1),
                        unit(&["psi"], POUND_FORCE_N / (INCH_MM * INCH_MM)),
                    ]
                }
            }
            Dimension::Temperature => {
                const {
                    &[
                        unit(&["degC", "°C", "C"], 1.0),
                        Unit {
                            names: &["degF", "°F", "F"],
                            factor: 5.0 / 9.0,
                            offset: -160.0 / 9.0,
                        },
                    ]
                }
            }
            Dimension::Rise => const { &[unit(&["K"], 1.0), unit(&["F-deg", "R"], 5.0 / 9.0)] },
            Dimension::Current => {
                const { &[unit(&["A"], 1.0), unit(&["kA"], 1000.0), unit(&["mA"], 1e-3)] }
            }
            Dimension::Voltage => {
                const { &[unit(&["V"], 1.0), unit(&["kV"], 1000.0), unit(&["mV"], 1e-3)] }
            }
            Dimension::Resistance => {
                const {
                    &[
                        unit(&["ohm", "Ω"], 1.0),
                        unit(&["mohm", "mΩ"], 1e-3),
                        unit(&["uohm", "µΩ"], 1e-6),
                        unit(&["kohm", "kΩ"], 1e3),
                        unit(&["Mohm", "MΩ"], 1e6),
                    ]
                }
            }
            Dimension::LineResistance => {
                const {
                    &[
                        unit(&["ohm/km", "mohm/m"], 1.0),
                        unit(&["ohm/m"], 1000.0),
                        unit(&["ohm/1000 ft", "ohm/kft"], 1.0 / 0.3048),
                    ]
                }
            }
            Dimension::Capacitance => {
                const {
                    &[
                        unit(&["F"], 1.0),
                        unit(&["mF"], 1e-3),
                        unit(&["uF", "µF"], 1e-6),
                        unit(&["nF"], 1e-9),
                    ]
                }
            }
            Dimension::Inductance => {
                const {
                    &[
                        unit(&["H"], 1.0),
                        unit(&["mH"], 1e-3),
                        unit(&["uH", "µH"], 1e-6),
                        unit(&["nH"], 1e-9),
                    ]
                }
            }
            Dimension::Frequency => const { &[unit(&["Hz"], 1.0), unit(&["kHz"], 1000.0)] },
            Dimension::Time => {
                const {
                    &[
                        unit(&["s"], 1.0),
                        unit(&["ms"], 1e-3),
                        unit(&["us", "µs"], 1e-6),
                        unit(&["min"], 60.0),
                        unit(&["h"], 3600.0),
                    ]
                }
            }
            Dimension::Energy => {
                const {
                    &[
                        unit(&["J"], 1.0),
                        unit(&["kJ"], 1e3),
                        unit(&["Wh"], 3600.0),
                        unit(&["kWh"], 3.6e6),
                    ]
                }
            }
            Dimension::Power => const { &[unit(&["W"], 1.0), unit(&["kW"], 1e3)] },
            Dimension::LineLoss => {
                const { &[unit(&["W/m"], 1.0), unit(&["W/ft"], 1.0 / 0.3048)] }
            }
            Dimension::HeatTransfer => const { &[unit(&["W/m2K", "W/(m2 K)", "W/m²K"], 1.0)] },
            Dimension::Conductivity => const { &[unit(&["W/mK", "W/(m K)"], 1.0)] },
            Dimension::ThermalResistivity => const { &[unit(&["K m/W", "Km/W"], 1.0)] },
            Dimension::Speed => {
                const {
                    &[
                        unit(&["m/s"], 1.0),
                        unit(&["km/h"], 1.0 / 3.6),
                        unit(&["mph"], MPH_M_S),
                        unit(&["ft/s"], 0.3048),
                    ]
                }
            }
            Dimension::Joule => {
                const { &[unit(&["A2s", "A²s"], 1.0), unit(&["kA2s", "kA²s"], 1e3)] }
            }
            Dimension::FluxDensity => {
                const {
                    &[
                        unit(&["uT", "µT"], 1.0),
                        unit(&["nT"], 1e-3),
                        unit(&["mT"], 1e3),
                        unit(&["T"], 1e6),
                    ]
                }
            }
            Dimension::Angle => {
                const { &[unit(&["deg", "°"], 1.0), unit(&["rad"], 180.0 / std::f64::consts::PI)] }
            }
            Dimension::BendingStiffness => {
                const { &[unit(&["N m2", "Nm2", "N·m²", "N m²"], 1.0), unit(&["N mm2"], 1e-6)] }
            }
            Dimension::Rotation => {
                const { &[unit(&["rev/min", "rpm", "1/min"], 1.0), unit(&["rev/s"], 60.0)] }
            }
            Dimension::FluxLinkage => {
                const { &[unit(&["Wb", "V s", "Vs"], 1.0), unit(&["mWb", "mV s", "mVs"], 1e-3)] }
            }
            Dimension::Density => const { &[unit(&["kg/m3", "kg/m³"], 1.0)] },
            Dimension::ForcePerSpeed => {
                const {
                    &[
                        unit(&["N/(m/s)", "N s/m"], 1.0),
                        unit(&["N/(km/h)"], 3.6),
                        unit(&["lbf/mph"], POUND_FORCE_N / MPH_M_S),
                    ]
                }
            }
            Dimension::ForcePerSpeedSquared => {
                const {
                    &[
                        unit(&["N/(m/s)2", "N/(m/s)²", "N s2/m2"], 1.0),
                        unit(&["N/(km/h)2", "N/(km/h)²"], 3.6 * 3.6),
                        unit(&["lbf/mph2", "lbf/mph²"], POUND_FORCE_N / (MPH_M_S * MPH_M_S)),
                    ]
                }
            }
            Dimension::EnergyPerLength => {
                const { &[unit(&["Wh/km"], 1.0), unit(&["Wh/mi"], 1.0 / 1.609_344)] }
            }
            Dimension::Ratio => const { &[unit(&[""], 1.0), unit(&["%"], 0.01)] },
        }
    }

    /// The unit the number is kept in, as printed.
    pub fn kept(self) -> &'static str {
        self.units()[0].names[0]
    }

    /// The word for it in a message: "a length", "a torque".
    pub fn called(self) -> &'static str {
        match self {
            Dimension::Length => "a length",
            Dimension::Area => "an area",
            Dimension::Mass => "a mass",
            Dimension::MassPerLength => "a mass per length",
            Dimension::Torque => "a torque",
            Dimension::Force => "a force",
            Dimension::LineLoad => "a load per length",
            Dimension::Stress => "a stress or pressure",
            Dimension::Temperature => "a temperature",
            Dimension::Rise => "a temperature difference",
            Dimension::Current => "a current",
            Dimension::Voltage => "a voltage",
            Dimension::Resistance => "a resistance",
            Dimension::LineResistance => "a resistance per length",
            Dimension::Capacitance => "a capacitance",
            Dimension::Inductance => "an inductance",
            Dimension::Frequency => "a frequency",
            Dimension::Time => "a time",
            Dimension::Energy => "an energy",
            Dimension::Power => "a power",
            Dimension::LineLoss => "a loss per length",
            Dimension::HeatTransfer => "a heat transfer coefficient",
            Dimension::Conductivity => "a thermal conductivity",
            Dimension::ThermalResistivity => "a thermal resistivity",
            Dimension::Speed => "a speed",
            Dimension::Joule => "a current squared times time",
            Dimension::FluxDensity => "a flux density",
            Dimension::Angle => "an angle",
            Dimension::BendingStiffness => "a bending stiffness",
            Dimension::Rotation => "a speed of rotation",
            Dimension::FluxLinkage => "a flux linkage",
            Dimension::Density => "a density",
            Dimension::ForcePerSpeed => "a force per speed",
            Dimension::ForcePerSpeedSquared => "a force per speed squared",
            Dimension::EnergyPerLength => "an energy per distance",
            Dimension::Ratio => "a ratio",
        }
    }

    /// The accepted units as a person reads them: "mm, cm, m, km, um, in or ft".
    pub fn accepted(self) -> String {
        let names: Vec<&str> = self
            .units()
            .iter()
            .map(|u| if u.names[0].is_empty() { "no unit" } else { u.names[0] })
            .collect();
        match names.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            _ => names.concat(),
        }
    }

    fn find(self, name: &str) -> Option<&'static Unit> {
        let squeezed = squeeze(name);
        self.units().iter().find(|u| u.names.iter().any(|n| squeeze(n) == squeezed))
    }
}

fn squeeze(name: &str) -> String {
    name.chars().filter(|c| !c.is_whitespace()).collect()
}

/// Why a text is not the quantity that was due.
#[derive(Clone, Debug, PartialEq)]
pub enum QuantityError {
    /// There is a number but no unit.
    NoUnit,
    /// The unit is none that this program knows.
    UnknownUnit(String),
    /// The unit is known, but measures something else.
    WrongKind {
        /// The unit as written.
        unit: String,
        /// What it measures.
        measures: Dimension,
    },
    /// There is no number where one is due.
    NotANumber(String),
    /// The number is not finite.
    NotFinite,
}

impl QuantityError {
    /// The message: what is wrong, then the accepted units.
    pub fn message(&self, due: Dimension) -> String {
        let accepted = due.accepted();
        match self {
            QuantityError::NoUnit => format!("{} needs a unit: {accepted}", due.called()),
            QuantityError::UnknownUnit(unit) => {
                format!("`{unit}` is not a unit of {}: use {accepted}", due.called())
            }
            QuantityError::WrongKind { unit, measures } => format!(
                "`{unit}` is the unit of {}, but {} is due: use {accepted}",
                measures.called(),
                due.called()
            ),
            QuantityError::NotANumber(text) => format!("`{text}` is not a number"),
            QuantityError::NotFinite => "the number is not finite".to_owned(),
        }
    }
}

/// Reads a quantity: "1.42 m", "4 ft 8 in", "1 1/2 in", "5/16 in", "80 lbf in", "45 degC", "2 %".
///
/// Several parts are added up (feet and inches). A ratio may have no unit.
pub fn parse(text: &str, due: Dimension) -> Result<f64, QuantityError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(QuantityError::NotANumber(String::new()));
    }
    let mut sum = 0.0;
    let mut rest = text;
    let negative = rest.starts_with('-');
    let mut first = true;
    while !rest.is_empty() {
        let (number, after) = take_number(rest)?;
        let (unit, after) = take_unit(after);
        let kept = in_kept_units(number, unit, due)?;
        // "-4 ft 8 in" is minus the whole length, as a person means it.
        sum += if !first && negative { -kept } else { kept };
        first = false;
        rest = after;
    }
    if sum.is_finite() { Ok(sum) } else { Err(QuantityError::NotFinite) }
}

fn in_kept_units(number: f64, unit: &str, due: Dimension) -> Result<f64, QuantityError> {
    if let Some(found) = due.find(unit) {
        return Ok(number * found.factor + found.offset);
    }
    if unit.is_empty() {
        return Err(QuantityError::NoUnit);
    }
    match Dimension::ALL.into_iter().find(|d| *d != Dimension::Ratio && d.find(unit).is_some())
    {
        Some(measures) => Err(QuantityError::WrongKind { unit: unit.to_owned(), measures }),
        None => Err(QuantityError::UnknownUnit(unit.to_owned())),
    }
}

/// A decimal number, a fraction "5/16" or a mixed number "1 1/2", and what follows.
fn take_number(text: &str) -> Result<(f64, &str), QuantityError> {
    let (whole, mut rest) = take_decimal(text)?;
    if let Some(after_slash) = rest.strip_prefix('/') {
        let (below, after) = take_decimal(after_slash)?;
        return Ok((divide(whole, below, text)?, after.trim_start()));
    }
    // "1 1/2": a second number is a fraction only if a slash follows it.
    rest = rest.trim_start();
    if let Ok((above, after)) = take_decimal(rest)
        && let Some(after_slash) = after.strip_prefix('/')
        && let Ok((below, after)) = take_decimal(after_slash)
    {
        let part = divide(above, below, text)?;
        return Ok((if whole < 0.0 { whole - part } else { whole + part }, after.trim_start()));
    }
    Ok((whole, rest))
}

fn divide(above: f64, below: f64, text: &str) -> Result<f64, QuantityError> {
    if below == 0.0 {
        Err(QuantityError::NotANumber(text.to_owned()))
    } else {
        Ok(above / below)
    }
}

fn take_decimal(text: &str) -> Result<(f64, &str), QuantityError> {
    let bytes = text.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let mut end = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let before = digits(end);
    end += before;
    let mut after = 0;
    if bytes.get(end) == Some(&b'.') {
        after = digits(end + 1);
        end += 1 + after;
    }
    if before + after == 0 {
        return Err(QuantityError::NotANumber(text.to_owned()));
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        let exponent = if end + 1 + sign <= bytes.len() { digits(end + 1 + sign) } else { 0 };
        if exponent > 0 {
            end += 1 + sign + exponent;
        }
    }
    let number = text[..end].parse().map_err(|_| QuantityError::NotANumber(text.to_owned()))?;
    Ok((number, &text[end..]))
}

/// The unit up to the next part that starts with a digit after a space ("4 ft 8 in").
fn take_unit(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    let bytes = text.as_bytes();
    let mut end = text.len();
    for i in 1..bytes.len() {
        let starts_number = bytes[i].is_ascii_digit()
            && (bytes[i - 1] == b' ' || bytes[i - 1] == b'\'' || bytes[i - 1] == b'"');
        // "ohm/1000 ft" is one unit.
        if starts_number {
            end = i;
            break;
        }
    }
    (text[..end].trim_end(), &text[end..])
}

/// Which system is printed first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// mm, N m, degC, mm2.
    #[default]
    Metric,
    /// inch, lbf in, degF, AWG.
    Us,
}

/// A number with as many decimals as a hand can use, without trailing zeros beyond them.
pub fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
        return text.trim_start_matches('-').to_owned();
    }
    text
}

/// One quantity in one system: "9.0 N m", "80 lbf in", "0.63 in", "113 degF".
pub fn show(value: f64, dimension: Dimension, system: System) -> String {
    match (dimension, system) {
        (Dimension::Length, System::Metric) if value.abs() >= 1e7 => {
            format!("{} km", number(value / 1e6, 2))
        }
        (Dimension::Length, System::Metric) if value.abs() >= 1e5 => {
            format!("{} m", number(value / 1000.0, 0))
        }
        // A cable is cut to the millimetre, but most lengths need no third decimal.
        (Dimension::Length, System::Metric) if value.abs() >= 1000.0 => {
            let text = number(value / 1000.0, 3);
            format!("{} m", text.strip_suffix('0').unwrap_or(&text))
        }
        // What settles or stands off by a hair would be shown as nothing.
        (Dimension::Length, System::Metric) if value != 0.0 && value.abs() < 0.0495 => {
            format!("{} um", number(value * 1000.0, 1))
        }
        (Dimension::Length, System::Metric) => {
            format!("{} mm", number(value, if value.abs() < 10.0 { 2 } else { 1 }))
        }
        (Dimension::Length, System::Us) if value.abs() >= 240.0 * INCH_MM => {
            let feet = value / (12.0 * INCH_MM);
            format!("{} ft", number(feet, if feet.abs() < 1000.0 { 1 } else { 0 }))
        }
        (Dimension::Length, System::Us) => {
            let inches = value / INCH_MM;
            let decimals = match inches.abs() {
                i if i != 0.0 && i < 0.00195 => 5,
                i if i < 10.0 => 3,
                _ => 1,
            };
            format!("{} in", number(inches, decimals))
        }
        (Dimension::Torque, System::Metric) => format!("{} N m", number(value, 1)),
        (Dimension::Torque, System::Us) => {
            let lbf_in = value / (POUND_FORCE_N * 0.0254);
            if lbf_in >= 400.0 {
                format!("{} lbf ft", number(lbf_in / 12.0, 0))
            } else {
                format!("{} lbf in", number(lbf_in, 0))
            }
        }
        (Dimension::Force, System::Metric) => format!("{} N", number(value, 0)),
        (Dimension::Force, System::Us) => format!("{} lbf", number(value / POUND_FORCE_N, 0)),
        (Dimension::Temperature, System::Metric) => format!("{} degC", number(value, 1)),
        (Dimension::Temperature, System::Us) => {
            format!("{} degF", number(value * 1.8 + 32.0, 0))
        }
        (Dimension::Mass, System::Metric) => format!("{} kg", mass(value)),
        (Dimension::Mass, System::Us) => format!("{} lb", mass(value / 0.453_592_37)),
        (Dimension::Ratio, _) => format!("{} %", number(value * 100.0, 1)),
        (other, _) => {
            let (scale, unit) = prefixed(value.abs(), other);
            let scaled = value / scale;
            let decimals = match scaled.abs() {
                m if m >= 100.0 || m == 0.0 => 0,
                m if m >= 10.0 => 1,
                m if m >= 1.0 => 2,
                m if m >= 0.1 => 3,
                m if m >= 0.01 => 4,
                _ => 7,
            };
            format!("{} {unit}", number(scaled, decimals))
        }
    }
}

/// The unit a person would say: milliohms, microfarads, kiloamperes. Kept units in one of it, and its name.
fn prefixed(magnitude: f64, dimension: Dimension) -> (f64, &'static str) {
    let steps: &[(f64, &str)] = match dimension {
        Dimension::Resistance => {
            &[(1e6, "Mohm"), (1e3, "kohm"), (1.0, "ohm"), (1e-3, "mohm"), (1e-6, "uohm")]
        }
        Dimension::Capacitance => &[(1e-6, "uF"), (1e-9, "nF")],
        Dimension::Inductance => &[(1e-3, "mH"), (1e-6, "uH"), (1e-9, "nH")],
        Dimension::Time => &[(1e4, "h"), (1.0, "s"), (1e-3, "ms"), (1e-6, "us")],
        Dimension::Energy => &[(1e4, "kJ"), (1.0, "J")],
        Dimension::Power => &[(1e4, "kW"), (1.0, "W")],
        Dimension::Joule => &[(1e4, "kA2s"), (1.0, "A2s")],
        Dimension::FluxDensity => &[(1e4, "mT"), (1e-2, "uT"), (1e-5, "nT")],
        Dimension::Frequency => &[(1e4, "kHz"), (1.0, "Hz")],
        Dimension::Current => &[(1e4, "kA"), (1.0, "A"), (1e-3, "mA")],
        _ => &[],
    };
    // From 10 000 on the larger unit is said, though it is a thousand.
    let found = steps.iter().find(|(least, _)| magnitude >= *least * (1.0 - 1e-12));
    match found.or(steps.last()).filter(|_| magnitude > 0.0) {
        Some(&(_, name)) => (factor_of(dimension, name), name),
        None => (1.0, dimension.kept()),
    }
}

fn factor_of(dimension: Dimension, name: &str) -> f64 {
    dimension.find(name).expect("a unit of this dimension").factor
}

/// Parts are weighed to ten grams, vehicles to the kilogram.
fn mass(value: f64) -> String {
    let decimals = match value.abs() {
        0.0..100.0 => 2,
        100.0..1000.0 => 1,
        _ => 0,
    };
    number(value, decimals)
}

/// One quantity in both systems, the build's choice first: "9.0 N m (80 lbf in)".
///
/// Quantities that both systems write alike appear once.
pub fn show_both(value: f64, dimension: Dimension, first: System) -> String {
    let second = match first {
        System::Metric => System::Us,
        System::Us => System::Metric,
    };
    let (a, b) = (show(value, dimension, first), show(value, dimension, second));
    if a == b { a } else { format!("{a} ({b})") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(text: &str, due: Dimension, expected: f64) {
        let got = parse(text, due).unwrap();
        assert!((got - expected).abs() < 1e-9 * expected.abs().max(1.0), "{text}: {got}");
    }

    #[test]
    fn masses_are_shown_as_they_are_weighed() {
        assert_eq!(show(11.516, Dimension::Mass, System::Metric), "11.52 kg");
        assert_eq!(show_both(1380.0, Dimension::Mass, System::Metric), "1380 kg (3042 lb)");
        assert_eq!(show(240.04, Dimension::Mass, System::Metric), "240.0 kg");
    }

    #[test]
    fn people_write_lengths_many_ways() {
        near("1.42 m", Dimension::Length, 1420.0);
        near("4 ft 8 in", Dimension::Length, 56.0 * 25.4);
        near("4' 8\"", Dimension::Length, 56.0 * 25.4);
        near("1 1/2 in", Dimension::Length, 38.1);
        near("5/16 in", Dimension::Length, 7.9375);
        near("16mm", Dimension::Length, 16.0);
        near("-4 ft 8 in", Dimension::Length, -56.0 * 25.4);
    }

    #[test]
    fn torque_in_both_systems() {
        // 80 lbf in = 9.038 786 N m, exact by definition of inch and pound-force.
        near("80 lbf in", Dimension::Torque, 9.038_786_322_209_337);
        assert_eq!(show_both(9.0388, Dimension::Torque, System::Metric), "9.0 N m (80 lbf in)");
        assert_eq!(show_both(9.0388, Dimension::Torque, System::Us), "80 lbf in (9.0 N m)");
    }

    #[test]
    fn small_and_large_numbers_take_the_unit_a_person_says() {
        let text = |value, dimension| show(value, dimension, System::Metric);
        assert_eq!(text(0.003_571_8, Dimension::Resistance), "3.57 mohm");
        assert_eq!(text(201_500.0, Dimension::Resistance), "202 kohm");
        assert_eq!(text(47.0, Dimension::Resistance), "47.0 ohm");
        assert_eq!(text(0.000_62, Dimension::Capacitance), "620 uF");
        assert_eq!(text(16.2e-6, Dimension::Inductance), "16.2 uH");
        assert_eq!(text(0.2, Dimension::Time), "200 ms");
        assert_eq!(text(5.0, Dimension::Time), "5.00 s");
        assert_eq!(text(28_800_000.0, Dimension::Time), "8000 h");
        assert_eq!(text(1_160_000.0, Dimension::Joule), "1160 kA2s");
        assert_eq!(text(4001.0, Dimension::Current), "4001 A");
        assert_eq!(text(50_000.0, Dimension::Current), "50.0 kA");
        assert_eq!(text(0.0, Dimension::Resistance), "0 ohm");
        assert_eq!(text(-0.002, Dimension::Time), "-2.00 ms");
    }

    #[test]
    fn long_lengths_take_the_unit_a_person_says() {
        let both = |value| show_both(value, Dimension::Length, System::Metric);
        assert_eq!(both(0.0085), "8.5 um (0.00033 in)");
        assert_eq!(both(0.05), "0.05 mm (0.002 in)");
        assert_eq!(both(0.0), "0.00 mm (0.000 in)");
        assert_eq!(both(999.0), "999.0 mm (39.3 in)");
        assert_eq!(both(2485.0), "2.485 m (97.8 in)");
        assert_eq!(both(30_000.0), "30.00 m (98.4 ft)");
        assert_eq!(both(800_000.0), "800 m (2625 ft)");
        assert_eq!(both(23_193_580.0), "23.19 km (76094 ft)");
    }

    #[test]
    fn temperatures_and_ratios() {
        near("113 degF", Dimension::Temperature, 45.0);
        near("-40 degF", Dimension::Temperature, -40.0);
        near("2 %", Dimension::Ratio, 0.02);
        near("0.9", Dimension::Ratio, 0.9);
        // One circular mil is pi/4 x (0.0254 mm)^2, so a thousand are 0.506 707 479 1 mm2.
        near("250 kcmil", Dimension::Area, 250.0 * 0.506_707_479_1);
    }

    #[test]
    fn mistakes_say_what_is_due() {
        assert_eq!(parse("12", Dimension::Length), Err(QuantityError::NoUnit));
        assert_eq!(
            parse("12 degC", Dimension::Length),
            Err(QuantityError::WrongKind {
                unit: "degC".into(),
                measures: Dimension::Temperature
            })
        );
        assert!(matches!(
            parse("12 furlong", Dimension::Length),
            Err(QuantityError::UnknownUnit(_))
        ));
        assert!(matches!(parse("abc", Dimension::Length), Err(QuantityError::NotANumber(_))));
        assert!(matches!(
            parse("1/0 mm", Dimension::Length),
            Err(QuantityError::NotANumber(_))
        ));
        assert_eq!(parse("1e999 mm", Dimension::Length), Err(QuantityError::NotFinite));
    }

    #[test]
    fn every_dimension_is_listed_once() {
        for (i, dimension) in Dimension::ALL.iter().enumerate() {
            assert_eq!(*dimension as usize, i);
        }
    }
}
