//! Warming of a cable by hand: the two loops of IEC 60853-2.

use physics::laws::two_loop::{Terms, TwoLoops};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "two-loop",
    purpose: "conductor's rise some time after a steady loss begins, by hand: two loops of heat and resistance",
    source: "IEC 60853-2, Van Wormer's coefficient (memory); agrees with a direct solution",
    inputs: &[
        Input::required(
            "conductor-heat",
            Kind::Number,
            "heat capacity of the conductor, J/(m K)",
        )
        .within(1e-3, 1e6),
        Input::required("insulation-heat", Kind::Number, "of the insulation, J/(m K)")
            .within(1e-3, 1e6),
        Input::required(
            "conductor-diameter",
            Kind::Quantity(Dimension::Length),
            "inner diameter of the insulation",
        )
        .within(0.1, 1000.0),
        Input::required("outer-diameter", Kind::Quantity(Dimension::Length), "of the cable")
            .within(0.2, 2000.0),
        Input::required(
            "inside-resistance",
            Kind::Quantity(Dimension::ThermalResistivity),
            "T1, of the insulation for a metre of cable",
        )
        .within(1e-6, 1e4),
        Input::required(
            "outside-resistance",
            Kind::Quantity(Dimension::ThermalResistivity),
            "T4, from surface to air for a metre of cable",
        )
        .within(1e-6, 1e4),
        Input::required("loss", Kind::Number, "of the conductor, W/m").within(0.0, 1e6),
        Input::required("time", Kind::Quantity(Dimension::Time), "since it began")
            .within(0.0, 1e8),
    ],
    outputs: &[
        Output::new("rise", "K", "of the conductor above the air"),
        Output::new("steady", "K", "in the end"),
        Output::new("share", "", "of the insulation's heat that counts to the conductor"),
        Output::new("rates", "1/s", "of the quick and the slow part"),
        Output::new("parts", "K m/W", "of the quick and the slow part"),
    ],
    example: &[
        ("conductor-heat", "218.7"),
        ("insulation-heat", "273.3"),
        ("conductor-diameter", "12 mm"),
        ("outer-diameter", "17 mm"),
        ("inside-resistance", "0.194 K m/W"),
        ("outside-resistance", "1.101 K m/W"),
        ("loss", "46.3"),
        ("time", "10 min"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let ratio = inputs.number("outer-diameter") / inputs.number("conductor-diameter");
    if ratio <= 1.001 {
        let text = "the cable is no thicker than its conductor".to_owned();
        return Err(FigureError::about("outer-diameter", text));
    }
    let cable = TwoLoops {
        conductor_j_mk: inputs.number("conductor-heat"),
        insulation_j_mk: inputs.number("insulation-heat"),
        diameter_ratio: ratio,
        inside_k_m_w: inputs.number("inside-resistance"),
        outside_k_m_w: inputs.number("outside-resistance"),
    };
    let Terms { quick, slow } = cable.terms();
    let (loss, time_s) = (inputs.number("loss"), inputs.number("time"));
    let mut outcome = Outcome::new()
        .one("rise", cable.rise_k(loss, time_s))
        .one("steady", loss * (cable.inside_k_m_w + cable.outside_k_m_w))
        .one("share", physics::laws::two_loop::van_wormer(ratio))
        .each("rates", vec![quick.1, slow.1])
        .each("parts", vec![quick.0, slow.0]);
    if time_s < 2.0 * cable.inside_k_m_w * cable.insulation_j_mk {
        outcome = outcome.note(
            "heat has hardly crossed the insulation yet: two loops are some percent too slow so early",
        );
    }
    Ok(outcome
        .note("constant loss and resistances; heat-step has both change with the temperature"))
}
