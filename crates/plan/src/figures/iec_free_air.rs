//! Continuous current in free air by the chain of IEC 60287.

use physics::laws::conductor::{Material, resistance_factor};
use physics::laws::iec60287::{self, FreeAir, InAir};
use physics::laws::radial;
use physics::units::Dimension;

use super::cable::{AMBIENT, FREQUENCY, LIMIT, OUTER_DIAMETER, RESISTIVITY};
use super::free_air_rating::limit_below_air;
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "iec-free-air",
    purpose: "continuous current of unscreened cables in air, every step of IEC 60287",
    source: "IEC 60287-1-1 and 60287-2-1 (memory)",
    inputs: &[
        Input::required(
            "resistance-20",
            Kind::Quantity(Dimension::LineResistance),
            "of the copper conductor at 20 degC",
        )
        .within(1e-4, 1e4),
        Input::required(
            "conductor-diameter",
            Kind::Quantity(Dimension::Length),
            "diameter over the conductor",
        )
        .within(0.05, 200.0),
        OUTER_DIAMETER,
        RESISTIVITY,
        AMBIENT,
        LIMIT,
        Input::with_default(
            "arrangement",
            Kind::Choice(&[
                "single",
                "pair-touching",
                "trefoil",
                "flat-touching",
                "two-vertical-touching",
                "two-vertical-spaced",
                "three-vertical-touching",
                "three-vertical-spaced",
            ]),
            "single",
            "how the cables lie",
        ),
        FREQUENCY,
    ],
    outputs: &[
        Output::new("inside", "K m/W", "thermal resistance T1 of the insulation"),
        Output::new("outside", "K m/W", "thermal resistance T4 to the air"),
        Output::new("surface-rise", "K", "surface above the air"),
        Output::new("ratio", "", "alternating over direct current resistance"),
        Output::new("loss", "W/m", "loss of each cable"),
        Output::new("current", "A", "continuous current of each cable, rms"),
    ],
    example: &[
        ("resistance-20", "0.272 ohm/km"),
        ("conductor-diameter", "12 mm"),
        ("outer-diameter", "17 mm"),
        ("ambient", "30 degC"),
        ("limit", "90 degC"),
    ],
    compute,
};

/// The arrangement, how many cables, and their spacing in diameters.
fn in_air(name: &str) -> (InAir, usize, f64) {
    match name {
        "pair-touching" => (InAir::TwoTouching, 2, 1.0),
        "trefoil" => (InAir::Trefoil, 3, 1.0),
        "flat-touching" => (InAir::ThreeTouching, 3, 1.0),
        "two-vertical-touching" => (InAir::TwoTouchingVertical, 2, 1.0),
        "two-vertical-spaced" => (InAir::TwoSpacedVertical, 2, 2.0),
        "three-vertical-touching" => (InAir::ThreeTouchingVertical, 3, 1.0),
        "three-vertical-spaced" => (InAir::ThreeSpacedVertical, 3, 2.0),
        _ => (InAir::Single, 1, 1.0),
    }
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let (inner, outer) = (inputs.number("conductor-diameter"), inputs.number("outer-diameter"));
    if outer < inner {
        return Err(FigureError::about(
            "outer-diameter",
            format!("{outer} mm is less than the {inner} mm of the conductor"),
        ));
    }
    let limit_c = inputs.number("limit");
    let rise_k = limit_c - inputs.number("ambient");
    if rise_k <= 0.0 {
        return Err(limit_below_air());
    }
    let (arrangement, cables, diameters) = in_air(inputs.text("arrangement"));
    let direct =
        inputs.number("resistance-20") * 1e-3 * resistance_factor(limit_c, Material::Copper);
    let frequency_hz = inputs.number("frequency");
    let ratio = iec60287::ratio(frequency_hz, direct, cables, inner, diameters * outer);
    let inside = radial::layer_k_m_per_w(inputs.number("insulation-resistivity"), inner, outer);
    let found = iec60287::free_air(&FreeAir {
        inside_k_m_per_w: inside,
        outer_mm: outer,
        arrangement,
        resistance_ohm_per_m: direct * ratio,
        rise_k,
    });
    let x = physics::laws::skin::argument(frequency_hz, direct);
    Ok(Outcome::new()
        .one("inside", inside)
        .one("outside", found.outside_k_m_per_w)
        .one("surface-rise", found.surface_rise_k)
        .one("ratio", ratio)
        .one("loss", found.loss_w_per_m)
        .one("current", found.current_a)
        .note("IEC 60287 takes the surface as black, which overstates a single cable by about 4 %")
        .note_if(
            1 < cables && iec60287::PROXIMITY_ARGUMENT_MAX < x,
            "outside the stated range: proximity of IEC 60287-1-1 is for xp up to 2.8",
        ))
}
