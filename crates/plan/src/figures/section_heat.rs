//! Temperatures in a section of anything round.

use physics::units::Dimension;
use space::section_fe::{Order, Outline, Region, Rim, Section, cut, temperatures};

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const LENGTH: Kind = Kind::Quantity(Dimension::Length);
const TEMPERATURE: Kind = Kind::Quantity(Dimension::Temperature);
const CONDUCTIVITY: Kind = Kind::Quantity(Dimension::Conductivity);

pub(crate) static FIGURE: Figure = Figure {
    name: "section-heat",
    purpose: "temperatures of a section of round parts of any materials, such as insulated cores in a jacket",
    source: "equation of heat, solved by finite elements",
    inputs: &[
        Input::required("radius", LENGTH, "of the whole").within(0.1, 1e4),
        Input::required("conductivity", CONDUCTIVITY, "of what fills it").within(1e-3, 1e4),
        Input::optional("rim-temperature", TEMPERATURE, "if it is held").within(-200.0, 1000.0),
        Input::optional(
            "coefficient",
            Kind::Quantity(Dimension::HeatTransfer),
            "from the rim to the air, in place of its temperature",
        )
        .within(1e-3, 1e5),
        Input::optional("ambient", TEMPERATURE, "air, with a coefficient")
            .within(-200.0, 1000.0),
        Input::required(
            "parts",
            Kind::Rows(&[
                Input::required("x", LENGTH, "centre").within(-1e4, 1e4),
                Input::required("y", LENGTH, "centre").within(-1e4, 1e4),
                Input::required("radius", LENGTH, "of the part").within(0.01, 1e4),
                Input::required("conductivity", CONDUCTIVITY, "of the part").within(1e-3, 1e8),
                Input::with_default(
                    "loss",
                    Kind::Quantity(Dimension::LineLoss),
                    "0 W/m",
                    "heat made in it, evenly",
                )
                .within(-1e6, 1e6),
                Input::optional(
                    "insulation-radius",
                    LENGTH,
                    "of a sheath around it, if it has one",
                )
                .within(0.01, 1e4),
                Input::with_default(
                    "insulation-conductivity",
                    CONDUCTIVITY,
                    "0.2857 W/mK",
                    "of the sheath",
                )
                .within(1e-3, 1e8),
            ]),
            "round parts, each over those before it",
        ),
        Input::optional(
            "size",
            LENGTH,
            "of the triangles; a fortieth of the whole where left out",
        )
        .within(1e-3, 1e4),
    ],
    outputs: &[Output::new("temperature", "degC", "mean of each part, without its sheath")],
    example: &[
        ("radius", "20 mm"),
        ("conductivity", "0.2 W/mK"),
        ("rim-temperature", "50 degC"),
        (
            "parts",
            "[{ x = \"0 mm\", y = \"5 mm\", radius = \"6 mm\", conductivity = \"400 W/mK\", loss = \"40 W/m\" }]",
        ),
    ],
    compute,
};

/// More parts and corners than a calculator takes.
const PARTS_MAX: usize = 30;
const CORNERS_MAX: usize = 10_000;
/// Triangles are no smaller than the whole over this.
const FINEST: f64 = 100.0;

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let rim = match inputs.one_of(&["rim-temperature", "coefficient"])? {
        "rim-temperature" => Rim::Held(inputs.number("rim-temperature")),
        _ => {
            let ambient_c = inputs.number_if("ambient").ok_or_else(|| {
                FigureError::about("ambient", "is needed where a coefficient is given")
            })?;
            Rim::Film(inputs.number("coefficient"), ambient_c)
        }
    };
    let rows = inputs.rows("parts");
    if rows.is_empty() || PARTS_MAX < rows.len() {
        return Err(FigureError::about("parts", format!("has 1 to {PARTS_MAX} parts")));
    }
    let radius_mm = inputs.number("radius");
    let mut regions = vec![Region {
        outline: Outline::Circle([0.0, 0.0], radius_mm),
        conductivity_w_mk: inputs.number("conductivity"),
        heat_w_per_m: 0.0,
    }];
    let mut cores = Vec::new();
    for row in rows {
        let centre = [row.number("x"), row.number("y")];
        if let Some(sheath_mm) = row.number_if("insulation-radius") {
            regions.push(Region {
                outline: Outline::Circle(centre, sheath_mm),
                conductivity_w_mk: row.number("insulation-conductivity"),
                heat_w_per_m: 0.0,
            });
        }
        cores.push(regions.len());
        regions.push(Region {
            outline: Outline::Circle(centre, row.number("radius")),
            conductivity_w_mk: row.number("conductivity"),
            heat_w_per_m: row.number("loss"),
        });
    }
    let section = Section { regions, rim };
    let size_mm = inputs.number_if("size").unwrap_or(radius_mm / 20.0);
    if !(radius_mm / FINEST..=radius_mm).contains(&size_mm) {
        let message = format!("is between the radius and a {FINEST}th of it");
        return Err(FigureError::about("size", message));
    }
    let reaches = |r: &Region| match &r.outline {
        Outline::Circle([x, y], part_mm) => (x * x + y * y).sqrt() + part_mm,
        Outline::Polygon(_) => f64::INFINITY,
    };
    if section.regions[1..].iter().any(|r| radius_mm <= reaches(r)) {
        return Err(FigureError::about("parts", "reach beyond the whole"));
    }
    let crossed = "cross, touch, leave the whole, or come too close for triangles of that size";
    let cut = cut(&section, size_mm, Order::Quadratic, CORNERS_MAX)
        .ok_or_else(|| FigureError::about("parts", crossed))?;
    let solved = temperatures(&section, &cut)
        .ok_or_else(|| FigureError::about("coefficient", "holds nothing"))?;
    let means = cores.iter().map(|region| solved.mean_c[*region]).collect();
    Ok(Outcome::new().each("temperature", means))
}
