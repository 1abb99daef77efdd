//! The preload and torque a bolt is rated for.

use physics::laws::bolt::{self, Friction, Torsion};
use physics::units::Dimension;

use super::bolt_preload::{HEAD_DIAMETER, HOLE, seat};
use super::thread::{THREAD, thread};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

const CLASSES: &[&str] = &[
    "4.6", "4.8", "5.8", "6.8", "8.8", "10.9", "12.9", "A2-50", "A2-70", "A2-80", "A4-50",
    "A4-70", "A4-80", "CU2", "CU3", "AL1",
];

pub(crate) static FIGURE: Figure = Figure {
    name: "bolt-rated-torque",
    purpose: "preload and torque at which a bolt reaches a share of its yield stress",
    source: "VDI 2230-1; strengths of ISO 898-1, ISO 3506-1 and ISO 8839",
    inputs: &[
        THREAD,
        Input::required("class", Kind::Choice(CLASSES), "property class as stamped"),
        Input::required("friction", Kind::Number, "friction in the thread and under the head")
            .within(0.02, 0.6),
        HEAD_DIAMETER,
        HOLE,
        Input::with_default(
            "utilisation",
            Kind::Quantity(Dimension::Ratio),
            "0.9",
            "share of the yield stress that tightening may use",
        )
        .within(0.05, 1.0),
        Input::with_default(
            "torsion",
            Kind::Choice(&["plastic", "elastic"]),
            "plastic",
            "plastic as in VDI 2230 from 2001, elastic as in its 1986 edition",
        ),
    ],
    outputs: &[
        Output::new("preload", "kN", "force in the bolt"),
        Output::new("torque", "N m", "tightening torque"),
    ],
    example: &[("thread", "M8"), ("class", "8.8"), ("friction", "0.12")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let thread = thread(inputs)?;
    let name = inputs.text("class");
    let Some(class) = bolt::property_class(name, thread.diameter_mm) else {
        return Err(FigureError::about(
            "class",
            format!("no strength is held for class {name} at {}", thread.designation()),
        ));
    };
    let mu = inputs.number("friction");
    let (seat, note) = seat(inputs, &thread)?;
    let torsion = match inputs.text("torsion") {
        "plastic" => Torsion::Plastic,
        _ => Torsion::Elastic,
    };
    let utilisation = inputs.number("utilisation");
    let preload_n =
        bolt::rated_preload_by_n(&thread, mu, class.yield_mpa, utilisation, torsion);
    let friction = Friction { thread: mu, head: mu };
    let outcome = Outcome::new()
        .one("preload", preload_n / 1000.0)
        .one("torque", bolt::torque_from_friction_nm(&thread, friction, seat, preload_n))
        .note("what the bolt bears; a soft thread or a lug under the head may bear less");
    Ok(match note {
        Some(note) => outcome.note(note),
        None => outcome,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_is_offered() {
        assert_eq!(CLASSES, bolt::class_names().as_slice());
    }

    #[test]
    fn a_class_that_does_not_come_in_a_size_is_said() {
        let given = [("thread", "M30"), ("class", "A2-70"), ("friction", "0.12")]
            .map(|(k, v)| (k.to_owned(), v.to_owned()));
        let errors = crate::figures::run("bolt-rated-torque", &given).unwrap_err();
        assert_eq!(errors[0].input, "class");
    }
}
