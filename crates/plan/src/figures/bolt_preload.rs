//! Torque to preload and back.

use physics::laws::bolt::{self, Friction, Seat};
use physics::laws::thread::Thread;
use physics::units::Dimension;

use super::thread::{THREAD, thread};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "bolt-preload",
    purpose: "preload from a torque, or the torque for a preload",
    source: "nut-factor form T = K F d; VDI 2230-1 for torque from friction",
    inputs: &[
        THREAD,
        Input::optional("torque", Kind::Quantity(Dimension::Torque), "tightening torque")
            .within(0.0, 10_000.0),
        Input::optional("preload", Kind::Quantity(Dimension::Force), "force in the bolt")
            .within(0.0, 1.0e7),
        Input::optional("nut-factor", Kind::Number, "K of T = K F d").within(0.05, 0.6),
        Input::optional("friction-thread", Kind::Number, "friction in the thread")
            .within(0.02, 0.6),
        Input::optional("friction-head", Kind::Number, "friction under the head")
            .within(0.02, 0.6),
        HEAD_DIAMETER,
        HOLE,
    ],
    outputs: &[
        Output::new("preload", "kN", "force in the bolt"),
        Output::new("torque", "N m", "tightening torque"),
        Output::new("stress", "MPa", "tensile stress on the stress area"),
    ],
    example: &[("thread", "M8"), ("torque", "9.04 N m"), ("nut-factor", "0.2")],
    compute,
};

pub(super) const HEAD_DIAMETER: Input = Input::optional(
    "head-diameter",
    Kind::Quantity(Dimension::Length),
    "bearing diameter of the head; a plain hexagon if left out",
)
.within(1.0, 200.0);

pub(super) const HOLE: Input = Input::optional(
    "hole",
    Kind::Quantity(Dimension::Length),
    "hole under the head; the medium hole of ISO 273 if left out",
)
.within(1.0, 200.0);

/// The seat given, filled up from the plain hexagon in a medium hole, with a note that says so.
pub(super) fn seat(
    inputs: &Inputs,
    thread: &Thread,
) -> Result<(Seat, Option<String>), FigureError> {
    let (head, hole) = (inputs.number_if("head-diameter"), inputs.number_if("hole"));
    let usual = bolt::hex_seat(thread.diameter_mm);
    let missing = |name: &str| {
        FigureError::about(
            name,
            format!(
                "is missing: no plain hexagon head is held for {}, so give head-diameter and hole",
                thread.designation()
            ),
        )
    };
    let head_diameter_mm = match (head, usual) {
        (Some(given), _) => given,
        (None, Some(usual)) => usual.head_diameter_mm,
        (None, None) => return Err(missing("head-diameter")),
    };
    let hole_mm = match (hole, usual) {
        (Some(given), _) => given,
        (None, Some(usual)) => usual.hole_mm,
        (None, None) => return Err(missing("hole")),
    };
    if head_diameter_mm <= hole_mm {
        return Err(FigureError::about(
            "hole",
            format!(
                "{hole_mm} mm leaves nothing to bear on under a head of {head_diameter_mm} mm"
            ),
        ));
    }
    let note = match (head, hole) {
        (Some(_), Some(_)) => None,
        _ => Some(format!(
            "head taken as {head_diameter_mm} mm on a hole of {hole_mm} mm: a plain hexagon in a medium hole where not given"
        )),
    };
    Ok((Seat { head_diameter_mm, hole_mm }, note))
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let thread = thread(inputs)?;
    let given = inputs.one_of(&["torque", "preload"])?;
    let (per_newton_nm, note) = match inputs.one_of(&["nut-factor", "friction-thread"])? {
        "nut-factor" => {
            for name in ["friction-head", "head-diameter", "hole"] {
                if inputs.has(name) {
                    return Err(FigureError::about(
                        name,
                        "does not go with a nut factor, which has the friction and the head in it",
                    ));
                }
            }
            (bolt::torque_nm(inputs.number("nut-factor"), 1.0, thread.diameter_mm), None)
        }
        _ => {
            let Some(head) = inputs.number_if("friction-head") else {
                return Err(FigureError::about(
                    "friction-head",
                    "is missing: the friction under the head goes with that in the thread",
                ));
            };
            let (seat, note) = seat(inputs, &thread)?;
            let friction = Friction { thread: inputs.number("friction-thread"), head };
            (bolt::torque_from_friction_nm(&thread, friction, seat, 1.0), note)
        }
    };
    let (preload_n, torque_nm) = match given {
        "torque" => (inputs.number("torque") / per_newton_nm, inputs.number("torque")),
        _ => (inputs.number("preload"), inputs.number("preload") * per_newton_nm),
    };
    let outcome = Outcome::new()
        .one("preload", preload_n / 1000.0)
        .one("torque", torque_nm)
        .one("stress", bolt::tensile_stress_mpa(&thread, preload_n))
        .note("friction scatters: one torque wrench leaves the true preload about 1.6 to 2.5 times apart from bolt to bolt");
    Ok(match note {
        Some(note) => outcome.note(note),
        None => outcome,
    })
}

#[cfg(test)]
mod tests {
    use crate::figures::run;

    fn given(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect()
    }

    #[test]
    fn there_and_back() {
        let way = [("thread", "M10"), ("friction-thread", "0.12"), ("friction-head", "0.14")];
        let mut there = given(&way);
        there.push(("torque".into(), "40 N m".into()));
        let preload = run("bolt-preload", &there).unwrap().result("preload").unwrap().values[0];
        let mut back = given(&way);
        back.push(("preload".into(), format!("{preload} kN")));
        let torque = run("bolt-preload", &back).unwrap().result("torque").unwrap().values[0];
        assert!((torque - 40.0).abs() < 1e-9);
    }

    #[test]
    fn two_ways_at_once_are_refused() {
        let errors = run(
            "bolt-preload",
            &given(&[
                ("thread", "M8"),
                ("torque", "9 N m"),
                ("nut-factor", "0.2"),
                ("hole", "9 mm"),
            ]),
        )
        .unwrap_err();
        assert_eq!(errors[0].input, "hole");
        assert!(run("bolt-preload", &given(&[("thread", "M8"), ("torque", "9 N m")])).is_err());
    }
}
