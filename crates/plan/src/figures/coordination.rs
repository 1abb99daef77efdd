//! Where a fuse is faster than its cable.

use physics::laws::adiabatic;
use physics::laws::conductor::Material;
use physics::laws::withstand::Cable;
use physics::units::Dimension;

use super::fuse_time::{CLEARING, CURVE, MELTING, link};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const fn celsius(name: &'static str, what: &'static str) -> Input {
    Input::required(name, Kind::Quantity(Dimension::Temperature), what).within(-60.0, 400.0)
}

pub(crate) static FIGURE: Figure = Figure {
    name: "coordination",
    purpose: "whether the slowest fuse of a class clears a fault before its copper cable is hurt",
    source: "IEC 60364-4-43; IEC 60949 up to 5 s, IEEE 242 beyond",
    inputs: &[
        CURVE,
        MELTING,
        CLEARING,
        Input::required("area", Kind::Quantity(Dimension::Area), "of the copper")
            .within(1e-2, 1e4),
        Input::required(
            "rating",
            Kind::Quantity(Dimension::Current),
            "of the cable where it lies",
        )
        .within(1e-2, 1e5),
        celsius("air", "around the cable"),
        celsius("limit", "of the conductor"),
        celsius("end", "in overload"),
        celsius("short", "in a short circuit"),
        Input::required("current", Kind::Quantity(Dimension::Current), "of the fault")
            .within(1e-2, 1e7),
    ],
    outputs: &[
        Output::new("clears", "s", "until the slowest fuse has cleared"),
        Output::new("bears", "s", "that the cable bears it"),
        Output::new("share", "", "of the one in the other; below 1 the fuse is the faster"),
    ],
    example: &[
        (
            "curve",
            "[{ time = \"10 s\", current = \"605 A\" }, { time = \"0.1 s\", current = \"1180 A\" }, { time = \"1 ms\", current = \"3010 A\" }]",
        ),
        ("melting-i2t", "9050 A2s"),
        ("clearing-i2t", "45300 A2s"),
        ("area", "70 mm2"),
        ("rating", "280 A"),
        ("air", "55 degC"),
        ("limit", "125 degC"),
        ("end", "175 degC"),
        ("short", "250 degC"),
        ("current", "1500 A"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let link = link(inputs)?;
    let [air_c, limit_c, end_c, short_c] =
        ["air", "limit", "end", "short"].map(|name| inputs.number(name));
    let wrong =
        || FigureError::about("short", "air, limit, end and short circuit rise in this order");
    if !(air_c < limit_c && limit_c < end_c && end_c <= short_c) {
        return Err(wrong());
    }
    let (copper, area_mm2) = (Material::Copper, inputs.number("area"));
    let short_a2s = adiabatic::joule_a2s(copper, area_mm2, limit_c, short_c);
    let cable = Cable::new(
        short_a2s,
        (copper, area_mm2),
        inputs.number("rating"),
        (air_c, limit_c, end_c),
    )
    .ok_or_else(wrong)?;
    let current_a = inputs.number("current");
    let bears_s = cable.time_s(current_a);
    let Some(clears_s) = link.clears_s(current_a) else {
        return Err(FigureError::about(
            "current",
            "the slowest of the class may never clear it",
        ));
    };
    let outcome = Outcome::new().one("clears", clears_s);
    Ok(match bears_s.is_finite() {
        true => outcome.one("bears", bears_s).one("share", clears_s / bears_s),
        false => outcome.one("share", 0.0).note("the cable bears it for ever"),
    })
}
