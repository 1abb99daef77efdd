//! Energy and power at the wheels over a speed table.

use physics::duty::vehicle::{Moment, Vehicle, work};
use physics::units::Dimension;

use super::{Figure, FigureError, Input, Inputs, Kind, Outcome, Output};
use crate::given::cycles::Cycle;

pub(crate) static FIGURE: Figure = Figure {
    name: "cycle",
    purpose: "distance, energy and greatest power at the wheels over a published or own speed table",
    source: "UN GTR No. 15 Annex 7 paragraph 5; tables of UN GTR 15, 40 CFR 86 and 600, UN R83",
    inputs: &[
        Input::optional(
            "name",
            Kind::Choice(&[
                "wltc-3b", "wltc-3a", "wltc-2", "udds", "ftp75", "hwfet", "us06", "nedc",
            ]),
            "a published table",
        ),
        Input::optional(
            "file",
            Kind::Text,
            "an own table: CSV with a head, time_s and speed_km_h, speed_mph or speed_m_s",
        ),
        Input::required("mass", Kind::Quantity(Dimension::Mass), "as driven").within(1.0, 1e5),
        Input::with_default(
            "rotating-mass",
            Kind::Quantity(Dimension::Mass),
            "0 kg",
            "what turning parts add",
        )
        .within(0.0, 1e5),
        Input::optional("road-load-a", Kind::Quantity(Dimension::Force), "of a coast-down")
            .within(-1e5, 1e5),
        Input::optional(
            "road-load-b",
            Kind::Quantity(Dimension::ForcePerSpeed),
            "of a coast-down",
        )
        .within(-1e4, 1e4),
        Input::optional(
            "road-load-c",
            Kind::Quantity(Dimension::ForcePerSpeedSquared),
            "of a coast-down",
        )
        .within(-1e3, 1e3),
        Input::optional(
            "drag-area",
            Kind::Quantity(Dimension::Area),
            "drag coefficient times frontal area",
        )
        .within(0.0, 1e9),
        Input::optional("rolling", Kind::Quantity(Dimension::Ratio), "resistance over weight")
            .within(0.0, 1.0),
        Input::with_default(
            "air-density",
            Kind::Quantity(Dimension::Density),
            "1.2 kg/m3",
            "of the air driven through",
        )
        .within(0.1, 2.0),
    ],
    outputs: &[
        Output::new("distance", "m", "covered"),
        Output::new("traction", "Wh/km", "energy of the pulling intervals"),
        Output::new("braking", "Wh/km", "energy of the braking intervals, negative"),
        Output::new("peak-power", "kW", "greatest at the wheels"),
        Output::new("duration", "s", "of the table"),
        Output::new("top-speed", "km/h", "greatest"),
        Output::new("mean-speed", "km/h", "standing included"),
    ],
    example: &[
        ("name", "wltc-3b"),
        ("mass", "1600 kg"),
        ("rotating-mass", "48 kg"),
        ("road-load-a", "25.91 lbf"),
        ("road-load-b", "0.1943 lbf/mph"),
        ("road-load-c", "0.01796 lbf/mph2"),
    ],
    compute,
};

fn compute(inputs: &Inputs) -> Result<Outcome, FigureError> {
    let table = match inputs.one_of(&["name", "file"])? {
        "name" => {
            Cycle::parse(inputs.text("name")).expect("the choice lists the cycles").table()
        }
        _ => own(inputs.text("file")).map_err(|message| FigureError::about("file", message))?,
    };
    let vehicle = vehicle(inputs)?;
    let sum = work(&vehicle.drive(&table));
    if sum.distance_m <= 0.0 {
        return Err(FigureError::about("file", "stands still throughout"));
    }
    let duration_s = table[table.len() - 1].time_s - table[0].time_s;
    let top_m_s = table.iter().map(|m| m.speed_m_s).fold(0.0, f64::max);
    let per_km = |joule: f64| joule / 3.6 / sum.distance_m; // J/m is 1/3.6 Wh/km
    Ok(Outcome::new()
        .one("distance", sum.distance_m)
        .one("traction", per_km(sum.traction_j))
        .one("braking", per_km(sum.braking_j))
        .one("peak-power", sum.peak_w / 1e3)
        .one("duration", duration_s)
        .one("top-speed", 3.6 * top_m_s)
        .one("mean-speed", 3.6 * sum.distance_m / duration_s))
}

fn vehicle(inputs: &Inputs) -> Result<Vehicle, FigureError> {
    let (mass_kg, rotating_mass_kg) = (inputs.number("mass"), inputs.number("rotating-mass"));
    match inputs.one_of(&["road-load-a", "drag-area"])? {
        "road-load-a" => {
            if inputs.has("rolling") {
                return Err(FigureError::about("rolling", "is in the road load already"));
            }
            Ok(Vehicle {
                mass_kg,
                rotating_mass_kg,
                a_n: inputs.number("road-load-a"),
                b_n_per_m_s: inputs.number_if("road-load-b").unwrap_or(0.0),
                c_n_per_m_s2: inputs
                    .number_if("road-load-c")
                    .ok_or_else(|| FigureError::about("road-load-c", "is missing"))?,
                rolling: 0.0,
            })
        }
        _ => {
            let rolling = inputs.number_if("rolling").ok_or_else(|| {
                FigureError::about("rolling", "is missing: drag-area is given")
            })?;
            let area_m2 = inputs.number("drag-area") * 1e-6;
            let density = inputs.number("air-density");
            Ok(Vehicle::from_drag(mass_kg, rotating_mass_kg, rolling, area_m2, density))
        }
    }
}

/// The largest own table: a week of seconds.
const ROWS_MAX: usize = 604_800;

/// An own table from its text; the program puts the file's text in the place of its name.
fn own(text: &str) -> Result<Vec<Moment>, String> {
    let mut lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
    let head = lines.next().unwrap_or_default().trim_start_matches('\u{feff}');
    let columns: Vec<&str> = head.split(',').map(str::trim).collect();
    let speeds = [("speed_km_h", 1.0 / 3.6), ("speed_mph", 0.44704), ("speed_m_s", 1.0)];
    let time = columns.iter().position(|c| *c == "time_s");
    let speed = speeds
        .iter()
        .find_map(|(name, factor)| Some((columns.iter().position(|c| c == name)?, *factor)));
    let (Some(time), Some((speed, factor))) = (time, speed) else {
        return Err("has no head with time_s and speed_km_h, speed_mph or speed_m_s".to_owned());
    };
    let mut table: Vec<Moment> = Vec::new();
    for (row, line) in lines.enumerate() {
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        let number = |at: usize| {
            cells.get(at).and_then(|c| c.parse::<f64>().ok()).filter(|n| n.is_finite())
        };
        let (Some(time_s), Some(speed)) = (number(time), number(speed)) else {
            return Err(format!("row {} holds no time and speed", row + 1));
        };
        if table.last().is_some_and(|last| time_s <= last.time_s) {
            return Err(format!("row {} does not come after the one before", row + 1));
        }
        if !(0.0..=200.0).contains(&(speed * factor)) {
            return Err(format!("row {} has a speed outside 0 to 720 km/h", row + 1));
        }
        if table.len() == ROWS_MAX {
            return Err(format!("has more than {ROWS_MAX} rows"));
        }
        table.push(Moment { time_s, speed_m_s: speed * factor, grade: 0.0 });
    }
    if table.len() < 2 {
        return Err("has fewer than two rows".to_owned());
    }
    Ok(table)
}

#[cfg(test)]
mod tests {
    use super::own;

    #[test]
    fn own_tables_are_read_or_refused() {
        let table = own("time_s,speed_mph\n0,0\n1,10\n").unwrap();
        assert!((table[1].speed_m_s - 4.4704).abs() < 1e-12);
        for wrong in [
            "drive.csv",
            "time_s,speed_mph\n",
            "time_s,speed_mph\n0,0\n0,1\n",
            "time_s,speed_m_s\n0,0\n1,nan\n",
            "time_s,speed_m_s\n0,0\n1,900\n",
            "time,speed\n0,0\n1,1\n",
        ] {
            assert!(own(wrong).is_err(), "{wrong}");
        }
    }
}
