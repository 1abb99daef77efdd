//! Keys that tell how the vehicle is driven: `[vehicle]`, `[motor]`, `[battery]`, `[duty]`.

use physics::units::Dimension;

use super::super::build::{Hard, MotorKind};
use super::super::cycles::CYCLES;
use super::{Kind, M, Table, Words, key, length, words};

/// `motor.kind`.
pub const MOTOR_KINDS: Words<MotorKind> = &[
    ("pm", MotorKind::Pm),
    ("induction", MotorKind::Induction),
    ("nameplate", MotorKind::Nameplate),
];
/// `duty.hard`.
pub const HARD: Words<Hard> = &[
    ("kerb", Hard::Kerb),
    ("climb", Hard::Climb),
    ("launch", Hard::Launch),
    ("top-speed", Hard::TopSpeed),
];
/// What a log may hold, as `duty.columns` names it.
pub const LOGGED: &[(&str, Dimension)] = &[
    ("time", Dimension::Time),
    ("speed", Dimension::Speed),
    ("grade", Dimension::Ratio),
    ("torque", Dimension::Torque),
    ("motor-speed", Dimension::Rotation),
    ("phase-current", Dimension::Current),
    ("frequency", Dimension::Frequency),
    ("dc-current", Dimension::Current),
    ("dc-voltage", Dimension::Voltage),
];

/// `[vehicle]`.
pub const VEHICLE: Table = Table {
    path: "vehicle",
    what: "The vehicle that is driven; with a motor, a battery and a duty the currents follow",
    inner: &[],
    keys: &[
        key(
            "mass",
            Kind::Quantity(Dimension::Mass, 50.0, 50_000.0),
            r#""1450 kg""#,
            "as driven, load and driver included",
        ),
        key(
            "rotating-mass",
            Kind::Quantity(Dimension::Mass, 0.0, 5000.0),
            r#""45 kg""#,
            "what wheels and motor add when the speed changes",
        ),
        key(
            "road-load-a",
            Kind::Quantity(Dimension::Force, 0.0, 5000.0),
            r#""115 N""#,
            "coast-down: force at a crawl",
        ),
        key(
            "road-load-b",
            Kind::Quantity(Dimension::ForcePerSpeed, -100.0, 200.0),
            r#""1.9 N/(m/s)""#,
            "coast-down: part that grows with speed; may be negative",
        ),
        key(
            "road-load-c",
            Kind::Quantity(Dimension::ForcePerSpeedSquared, 0.0, 20.0),
            r#""0.40 N/(m/s)2""#,
            "coast-down: part that grows with the square of speed",
        ),
        key(
            "drag-area",
            Kind::Quantity(Dimension::Area, 0.05e6, 20.0e6),
            r#""0.75 m2""#,
            "drag coefficient times frontal area, where no coast-down is known",
        ),
        key(
            "rolling",
            Kind::Quantity(Dimension::Ratio, 0.001, 0.2),
            r#""1.1 %""#,
            "rolling resistance over weight",
        ),
        key(
            "air-density",
            Kind::Quantity(Dimension::Density, 0.5, 1.6),
            r#""1.2 kg/m3""#,
            "of the air driven through; denser air takes more",
        ),
        key(
            "trailer-mass",
            Kind::Quantity(Dimension::Mass, 0.0, 50_000.0),
            r#""600 kg""#,
            "towed",
        ),
        key(
            "trailer-drag-area",
            Kind::Quantity(Dimension::Area, 0.0, 20.0e6),
            r#""1.0 m2""#,
            "what the trailer adds to the drag area",
        ),
        key(
            "wheel-radius",
            length(50.0, M),
            r#""310 mm""#,
            "rolling radius of the driven wheels",
        ),
        key(
            "gear",
            Kind::Number(0.1, 100.0),
            r#"8.5"#,
            "turns of the motor for one turn of the wheel",
        ),
        key(
            "gear-efficiency",
            Kind::Quantity(Dimension::Ratio, 0.5, 1.0),
            r#""96 %""#,
            "from motor to wheel",
        ),
        key(
            "regeneration",
            Kind::Quantity(Dimension::Ratio, 0.0, 1.0),
            r#""70 %""#,
            "share of the braking that the motor does",
        ),
    ],
};

/// `[motor]`.
pub const MOTOR: Table = Table {
    path: "motor",
    what: "The motor and its inverter",
    inner: &[],
    keys: &[
        key(
            "kind",
            Kind::Choice(|| words(MOTOR_KINDS)),
            r#""pm""#,
            "which figures are known: of a permanent-magnet motor, of an induction motor, or the nameplate",
        ),
        key("pole-pairs", Kind::Count(1, 50), r#"4"#, "pairs of poles"),
        key(
            "current-max",
            Kind::Quantity(Dimension::Current, 1.0, 3000.0),
            r#""280 A""#,
            "phase current, rms, that motor and inverter allow",
        ),
        key(
            "speed-max",
            Kind::Quantity(Dimension::Rotation, 100.0, 50_000.0),
            r#""12000 rev/min""#,
            "greatest speed of the motor",
        ),
        key(
            "carrier",
            Kind::Quantity(Dimension::Frequency, 500.0, 200_000.0),
            r#""10 kHz""#,
            "switching frequency of the inverter",
        ),
        key(
            "inverter-efficiency",
            Kind::Quantity(Dimension::Ratio, 0.5, 1.0),
            r#""95 %""#,
            "of the inverter, iron and windage together",
        ),
        key(
            "resistance",
            Kind::Quantity(Dimension::Resistance, 1e-5, 100.0),
            r#""18 mohm""#,
            "of a phase, pm and induction",
        ),
        key(
            "ld",
            Kind::Quantity(Dimension::Inductance, 1e-6, 10.0),
            r#""0.37 mH""#,
            "pm: inductance along the magnet",
        ),
        key(
            "lq",
            Kind::Quantity(Dimension::Inductance, 1e-6, 10.0),
            r#""1.2 mH""#,
            "pm: inductance across the magnet",
        ),
        key(
            "flux",
            Kind::Quantity(Dimension::FluxLinkage, 0.0, 10.0),
            r#""66 mWb""#,
            "pm: flux linkage of the magnet, peak",
        ),
        key(
            "rotor-resistance",
            Kind::Quantity(Dimension::Resistance, 1e-5, 100.0),
            r#""12 mohm""#,
            "induction: of the rotor, seen from the stator",
        ),
        key(
            "magnetising-inductance",
            Kind::Quantity(Dimension::Inductance, 1e-6, 10.0),
            r#""2.2 mH""#,
            "induction",
        ),
        key(
            "stator-leakage",
            Kind::Quantity(Dimension::Inductance, 0.0, 10.0),
            r#""90 uH""#,
            "induction: leakage inductance",
        ),
        key(
            "rotor-leakage",
            Kind::Quantity(Dimension::Inductance, 0.0, 10.0),
            r#""90 uH""#,
            "induction: leakage inductance",
        ),
        key(
            "magnetising-current",
            Kind::Quantity(Dimension::Current, 0.1, 3000.0),
            r#""110 A""#,
            "induction: current along the flux, rms, at rated flux",
        ),
        key(
            "torque-max",
            Kind::Quantity(Dimension::Torque, 0.5, 20_000.0),
            r#""220 N m""#,
            "nameplate: greatest torque",
        ),
        key(
            "power-max",
            Kind::Quantity(Dimension::Power, 100.0, 2e6),
            r#""80 kW""#,
            "nameplate: greatest power at the shaft",
        ),
        key(
            "efficiency",
            Kind::Quantity(Dimension::Ratio, 0.3, 1.0),
            r#""92 %""#,
            "nameplate: of the motor alone",
        ),
    ],
};

/// `[battery]`.
pub const BATTERY: Table = Table {
    path: "battery",
    what: "The battery as a source",
    inner: &[],
    keys: &[
        key(
            "voltage",
            Kind::Quantity(Dimension::Voltage, 1.0, 1500.0),
            r#""350 V""#,
            "at no current; the system's nominal voltage where absent",
        ),
        key(
            "resistance",
            Kind::Quantity(Dimension::Resistance, 1e-5, 10.0),
            r#""90 mohm""#,
            "of the pack with its leads, over ten seconds",
        ),
        key(
            "voltage-min",
            Kind::Quantity(Dimension::Voltage, 1.0, 1500.0),
            r#""280 V""#,
            "lowest voltage under load that the battery's maker allows",
        ),
        key(
            "auxiliary",
            Kind::Quantity(Dimension::Power, 0.0, 50_000.0),
            r#""300 W""#,
            "steady load beside the motor",
        ),
    ],
};

/// `[duty]`.
pub const DUTY: Table = Table {
    path: "duty",
    what: "How the vehicle is driven; runs that state no current take theirs from here",
    inner: &[],
    keys: &[
        key(
            "cycle",
            Kind::Choice(|| words(CYCLES)),
            r#""wltc-3b""#,
            "a published speed table, repeated",
        ),
        key(
            "file",
            Kind::Text,
            r#""drive.csv""#,
            "a log beside the build: CSV, MDF4 or candump",
        ),
        key("dbc", Kind::Text, r#""drive.dbc""#, "what the frames of a candump mean"),
        key(
            "columns",
            Kind::TextByName,
            r#"{ time = "Time [s]", speed = "Velocity [km/h]" }"#,
            "which column or signal is time, speed, grade, torque, motor-speed, phase-current, frequency, dc-current or dc-voltage",
        ),
        key(
            "units",
            Kind::TextByName,
            r#"{ speed = "km/h" }"#,
            "units of columns whose names do not tell",
        ),
        key(
            "inverted",
            Kind::Texts(12),
            r#"["dc-current"]"#,
            "what is logged with the other sign",
        ),
        key(
            "gap",
            Kind::Quantity(Dimension::Time, 0.01, 3600.0),
            r#""5 s""#,
            "longest pause between two rows that is bridged",
        ),
        key(
            "hard",
            Kind::Texts(4),
            r#"["kerb", "climb", "launch", "top-speed"]"#,
            "cases harder than the drive, each from a warm start",
        ),
        key(
            "grade",
            Kind::Quantity(Dimension::Ratio, 0.0, 1.0),
            r#""12 %""#,
            "climb: rise over run",
        ),
        key(
            "climb-speed",
            Kind::Quantity(Dimension::Speed, 0.5, 60.0),
            r#""50 km/h""#,
            "climb: speed",
        ),
        key(
            "climb-time",
            Kind::Quantity(Dimension::Time, 1.0, 36_000.0),
            r#""10 min""#,
            "climb: how long",
        ),
        key(
            "kerb-height",
            length(5.0, 500.0),
            r#""120 mm""#,
            "kerb: height the driven wheels stall against",
        ),
        key(
            "kerb-time",
            Kind::Quantity(Dimension::Time, 0.1, 600.0),
            r#""5 s""#,
            "kerb: how long the driver pushes",
        ),
        key("launches", Kind::Count(1, 100), r#"10"#, "launch: how many in a row"),
        key(
            "launch-speed",
            Kind::Quantity(Dimension::Speed, 1.0, 80.0),
            r#""60 km/h""#,
            "launch: speed reached",
        ),
        key(
            "launch-time",
            Kind::Quantity(Dimension::Time, 0.5, 600.0),
            r#""7 s""#,
            "launch: time from standstill to that speed",
        ),
        key(
            "top-speed",
            Kind::Quantity(Dimension::Speed, 1.0, 120.0),
            r#""130 km/h""#,
            "top-speed: speed held",
        ),
        key(
            "top-time",
            Kind::Quantity(Dimension::Time, 1.0, 36_000.0),
            r#""10 min""#,
            "top-speed: how long",
        ),
    ],
};
