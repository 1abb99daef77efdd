//! Temperatures of cables in a filled round jacket.

use physics::laws::multipole::{self, Core, Jacket, Rim};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);
const TEMPERATURE: Kind = Kind::Quantity(Dimension::Temperature);

pub(crate) static FIGURE: Figure = Figure {
    name: "jacket-bundle",
    purpose: "temperatures of round cores in a round jacket filled with one material",
    source: "equation of heat, solved by multipoles (Claesson and Hellstrom 2011)",
    inputs: &[
        Input::required("jacket-radius", LENGTH, "of the filler").within(0.1, 1e4),
        Input::optional("jacket-temperature", TEMPERATURE, "of the jacket's surface, if held")
            .within(-200.0, 1000.0),
        Input::optional(
            "coefficient",
            Kind::Quantity(Dimension::HeatTransfer),
            "from the jacket to the air, in place of its temperature",
        )
        .within(1e-3, 1e5),
        Input::optional("ambient", TEMPERATURE, "air, with a coefficient").within(-200.0, 1000.0),
        Input::optional(
            "ground-conductivity",
            Kind::Quantity(Dimension::Conductivity),
            "of material without end around the jacket, in place of both; temperatures then count from the mean of the jacket",
        )
        .within(1e-3, 1e5),
        Input::required(
            "filler-conductivity",
            Kind::Quantity(Dimension::Conductivity),
            "of the filler",
        )
        .within(1e-3, 1e4),
        Input::required(
            "cores",
            Kind::Rows(&[
                Input::required("x", LENGTH, "centre, from the jacket's centre").within(-1e4, 1e4),
                Input::required("y", LENGTH, "centre, from the jacket's centre").within(-1e4, 1e4),
                Input::required("radius", LENGTH, "to the filler").within(0.01, 1e4),
                Input::with_default(
                    "film",
                    Kind::Quantity(Dimension::ThermalResistivity),
                    "0 K m/W",
                    "thermal resistance of the core's own insulation, per metre",
                )
                .within(0.0, 1e3),
                Input::required(
                    "loss",
                    Kind::Quantity(Dimension::LineLoss),
                    "heat the core makes",
                )
                .within(-1e6, 1e6),
            ]),
            "the cores",
        ),
    ],
    outputs: &[Output::new("temperature", "degC", "of each core, in order")],
    example: &[
        ("jacket-radius", "20 mm"),
        ("jacket-temperature", "50 degC"),
        ("filler-conductivity", "0.2 W/mK"),
        (
            "cores",
            "[{ x = \"0 mm\", y = \"10 mm\", radius = \"8.5 mm\", film = \"0.194 K m/W\", loss = \"40 W/m\" }]",
        ),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let rim =
        match inputs.one_of(&["jacket-temperature", "coefficient", "ground-conductivity"])? {
            "jacket-temperature" => Rim::Held(inputs.number("jacket-temperature")),
            "coefficient" => Rim::Film {
                coefficient_w_m2k: inputs.number("coefficient"),
                ambient_c: inputs.number_if("ambient").ok_or_else(|| {
                    FigureError::about("ambient", "is needed where a coefficient is given")
                })?,
            },
            _ => Rim::Ground(inputs.number("ground-conductivity")),
        };
    let cores: Vec<Core> = inputs
        .rows("cores")
        .iter()
        .map(|row| Core {
            x_mm: row.number("x"),
            y_mm: row.number("y"),
            radius_mm: row.number("radius"),
            film_k_m_per_w: row.number("film"),
            loss_w_per_m: row.number("loss"),
        })
        .collect();
    if cores.is_empty() || CORES_MAX < cores.len() {
        let message = format!("has 1 to {CORES_MAX} cores");
        return Err(FigureError::about("cores", message));
    }
    let jacket = Jacket {
        radius_mm: inputs.number("jacket-radius"),
        filler_w_mk: inputs.number("filler-conductivity"),
        rim,
        cores,
    };
    if !multipole::fits(&jacket) {
        return Err(FigureError::about("cores", "overlap, touch, or leave the jacket"));
    }
    Ok(Outcome::new().each("temperature", multipole::temperatures_c(&jacket)))
}

/// More cores than any cable has.
const CORES_MAX: usize = 61;
