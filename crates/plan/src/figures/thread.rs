//! Geometry of a metric thread.

use physics::laws::thread::Thread;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "thread",
    purpose: "pitch, diameters and stress area of a metric thread",
    source: "ISO 68-1, ISO 261, ISO 724; ISO 898-1 for the stress area",
    inputs: &[THREAD],
    outputs: &[
        Output::new("pitch", "mm", "pitch"),
        Output::new("pitch-diameter", "mm", "pitch diameter d2"),
        Output::new("root-diameter", "mm", "root diameter of the bolt d3"),
        Output::new("minor-diameter", "mm", "bore of the nut D1"),
        Output::new("stress-area", "mm2", "stress area As"),
    ],
    example: &[("thread", "M8")],
    compute,
};

/// The thread every bolt figure takes.
pub(super) const THREAD: Input =
    Input::required("thread", Kind::Thread, "metric thread, \"M8\" or \"M10x1.25\"");

/// Reads the input `thread`.
pub(super) fn thread(inputs: &Inputs) -> Result<Thread, FigureError> {
    Thread::parse(inputs.text("thread"))
        .map_err(|error| FigureError::about("thread", error.message()))
}

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let thread = thread(inputs)?;
    Ok(Outcome::new()
        .one("pitch", thread.pitch_mm)
        .one("pitch-diameter", thread.pitch_diameter_mm())
        .one("root-diameter", thread.root_diameter_mm())
        .one("minor-diameter", thread.minor_diameter_mm())
        .one("stress-area", thread.stress_area_mm2()))
}

#[cfg(test)]
mod tests {
    use crate::figures::run;

    #[test]
    fn a_bad_thread_names_its_input() {
        let errors = run("thread", &[("thread".into(), "M25".into())]).unwrap_err();
        assert_eq!(errors[0].input, "thread");
        assert!(errors[0].message.contains("no coarse pitch"), "{}", errors[0].message);
    }
}
