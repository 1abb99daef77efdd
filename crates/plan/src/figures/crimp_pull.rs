//! The pull a crimped lug must bear.

use physics::laws::conductor::ConductorSize;
use physics::laws::crimp;

use super::cable::{MATERIAL, SIZE, material};
use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};

pub(crate) static FIGURE: Figure = Figure {
    name: "crimp-pull",
    purpose: "pull that a crimped lug must bear for a minute",
    source: "UL 486A by gauge; IEC 61238-1, 60 N/mm2 copper, 40 N/mm2 aluminium, at most 20 kN",
    inputs: &[
        SIZE,
        Input::required(
            "basis",
            Kind::Choice(&["ul-486a", "iec-61238-1"]),
            "the standard that asks for it",
        ),
        MATERIAL,
    ],
    outputs: &[Output::new("force", "N", "pull")],
    example: &[("size", "2/0 AWG"), ("basis", "ul-486a")],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let size = inputs.size("size");
    if inputs.text("basis") == "iec-61238-1" {
        let area_mm2 = size.area_mm2();
        return Ok(Outcome::new()
            .one("force", crimp::iec_61238_1_n(area_mm2, material(inputs)))
            .note_if(area_mm2 < 10.0, "the standard starts at 10 mm2"));
    }
    if inputs.text("material") != "copper" {
        return Err(FigureError::about("material", "the UL 486A values held are for copper"));
    }
    let ConductorSize::Awg(gauge) = size else {
        return Err(FigureError::about(
            "size",
            "UL 486A goes by gauge: write it like 2/0 AWG, or take the basis iec-61238-1",
        ));
    };
    let Some(pull) = crimp::ul_486a(gauge) else {
        return Err(FigureError::about(
            "size",
            "no UL 486A value is held for this gauge: 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 1/0, 2/0, 3/0 and 4/0 are",
        ));
    };
    Ok(Outcome::new()
        .one("force", pull.force_n)
        .note_if(!pull.read, "this value is from memory of the standard")
        .note("for crimps; values of UL 486E for clamps are far lower"))
}
