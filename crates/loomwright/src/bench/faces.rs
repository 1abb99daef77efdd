//! Surveyed faces: how the readings fit, where each is written, and the photograph.

use axum::http::StatusCode;
use axum::response::Response;
use plan::Plan;
use plan::design::survey::SurveyedFace;
use plan::finding::Place;
use plan::given::build::{Build, Face, Measure};
use plan::given::face::read_file;

use super::answer;
use super::desk::Desk;
use super::outcome::Outcome;
use super::refusal::Refusal;
use crate::disk;
use crate::wire::{
    self, FaceSheetWire, FacesWire, PhotoClickWire, PhotoPlaceWire, ReadingPlaceWire,
};

/// A photograph as a camera takes it is no larger.
pub(crate) const PHOTO_MAX: usize = 12 << 20;

/// All faces of a version.
pub(crate) fn faces(desk: &Desk, outcome: &Outcome) -> FacesWire {
    let faces = match &outcome.planned {
        Some(p) => p.plan.faces.iter().map(|f| sheet(desk, &p.build, &p.plan, f)).collect(),
        None => Vec::new(),
    };
    FacesWire { version: outcome.version, faces }
}

fn sheet(desk: &Desk, build: &Build, plan: &Plan, surveyed: &SurveyedFace) -> FaceSheetWire {
    let (device, port) = surveyed.port.split_once('.').unwrap_or_default();
    let given = build
        .devices
        .iter()
        .find(|d| d.id.value == device)
        .and_then(|d| d.ports.iter().find(|p| p.id == port))
        .and_then(|p| p.face.as_ref());
    let file = given.and_then(|f| f.file.as_ref()).map(|f| f.value.clone());
    let path: Vec<String> = match file {
        Some(_) => Vec::new(),
        None => ["device", device, "port", port, "face"].map(str::to_owned).to_vec(),
    };
    let file = file.unwrap_or_else(|| disk::DOCUMENT.to_owned());
    let drawing = draw::face::face(surveyed, plan.heading.units)
        .map(|_| format!("/api/builds/{}/drawings/face-{}.svg", desk.id, surveyed.port));
    // In the plan a reading of a face file stands where the document names the file; here it leads into the file.
    let own = desk.texts().0.get(&file).filter(|_| path.is_empty()).map(|t| read_file(t).0);
    let readings = places(own.as_ref().or(given), surveyed)
        .into_iter()
        .zip(&surveyed.readings)
        .map(|(place, r)| ReadingPlaceWire {
            at: wire::at(place.as_ref().map_or(r.at, |p| p.at), &file),
            path: place.map_or_else(Vec::new, |p| path.iter().cloned().chain(p.key).collect()),
            text: plan::design::survey::fine(r.value_mm, plan.heading.units),
        })
        .collect();
    FaceSheetWire {
        face: wire::survey(surveyed),
        photo: photo_place(desk, given, &path, &surveyed.port),
        file,
        path,
        drawing,
        readings,
    }
}

/// Where a reading is written.
struct Written {
    key: Vec<String>,
    value_mm: f64,
    at: Place,
}

/// Where each surveyed reading is written, in their order; none where it came from the photograph.
fn places(face: Option<&Face>, surveyed: &SurveyedFace) -> Vec<Option<Written>> {
    let mut written = face.map_or_else(Vec::new, written).into_iter();
    let mut next = |value_mm: f64| {
        // Both are in the order of the survey; one that was not understood there is only written.
        written.by_ref().find(|w| w.value_mm.to_bits() == value_mm.to_bits())
    };
    surveyed.readings.iter().map(|r| next(r.value_mm)).collect()
}

/// All readings of a face in the order of the survey: diameters of points, then readings.
fn written(face: &Face) -> Vec<Written> {
    let mut all = Vec::new();
    let kinds =
        [("hole", &face.holes), ("terminal", &face.terminals), ("corner", &face.corners)];
    for (kind, points) in kinds {
        for point in points {
            let Some(diameter) = &point.diameter_mm else { continue };
            let key = [kind, point.id.value.as_str(), "diameter"].map(str::to_owned).to_vec();
            all.push(Written { key, value_mm: diameter.value, at: diameter.at });
        }
    }
    for (i, reading) in face.readings.iter().enumerate() {
        let Some((measure, value)) = reading.values_mm.first() else { continue };
        let key = match measure {
            Measure::Centres => "centres",
            Measure::Outside => "outside",
            Measure::Inside => "inside",
            Measure::Centre => "centre",
            Measure::NearSide => "near-side",
            Measure::FarSide => "far-side",
            Measure::Diameter => "diameter",
        };
        let key = vec!["reading".to_owned(), i.to_string(), key.to_owned()];
        all.push(Written { key, value_mm: value.value, at: value.at });
    }
    all
}

fn photo_place(
    desk: &Desk,
    given: Option<&Face>,
    path: &[String],
    port: &str,
) -> PhotoPlaceWire {
    let stem = format!("photo-{}", port.replace('.', "-"));
    // Of several kinds the one brought last.
    let found = ["jpg", "jpeg", "png"]
        .into_iter()
        .filter_map(|ending| {
            let name = format!("{stem}.{ending}");
            let about = desk.document.with_file_name(&name).metadata().ok()?;
            about.is_file().then(|| (about.modified().ok(), name))
        })
        .max()
        .map(|(_, name)| name);
    let photo = given.and_then(|f| f.photo.as_ref());
    let points = photo.map_or_else(Vec::new, |photo| {
        let click = |p: &plan::given::build::PhotoPoint| {
            let [x_px, y_px] = p.pixel.as_ref()?.value;
            Some(PhotoClickWire {
                name: p.id.value.clone(),
                x_px,
                y_px,
                known_mm: p.at_mm.as_ref().map(|at| at.value),
            })
        };
        photo.points.iter().filter_map(click).collect()
    });
    PhotoPlaceWire {
        url: found.map(|name| format!("/api/builds/{}/photos/{name}", desk.id)),
        name: stem,
        path: path.iter().cloned().chain(["photo".to_owned()]).collect(),
        size_px: photo.and_then(|p| p.size_px.as_ref()).map(|s| s.value),
        points,
    }
}

/// Whether a name is that of a photograph, and nothing else in the folder.
fn is_photo(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let Some((stem, ending)) = name.rsplit_once('.') else { return false };
    let ending = matches!(ending, "jpg" | "jpeg" | "png");
    ending && !stem.is_empty() && stem.len() <= 80 && stem.chars().all(plain)
}

fn no_name() -> Refusal {
    Refusal::absent("this is no name of a photograph")
        .hint("letters, digits, - and _, ending in .jpg or .png")
}

/// A photograph from the build's folder.
///
/// # Errors
/// When there is none of that name.
pub(crate) fn photo(desk: &Desk, name: &str) -> Result<Response, Refusal> {
    if !is_photo(name) {
        return Err(no_name());
    }
    let path = desk.document.with_file_name(name);
    if !path.is_file() {
        return Err(Refusal::absent("there is no such photograph"));
    }
    let bytes = disk::read_bytes(&path, PHOTO_MAX as u64)
        .map_err(|error| Refusal::fault(format!("{error:#}")))?;
    Ok(answer::file(name, bytes))
}

/// Puts a photograph into the build's folder.
///
/// # Errors
/// When it is none, or cannot be written.
pub(crate) fn keep_photo(desk: &Desk, name: &str, bytes: &[u8]) -> Result<Response, Refusal> {
    if !is_photo(name) {
        return Err(no_name());
    }
    let is_png = bytes.starts_with(b"\x89PNG\r\n\x1a\n");
    let is_jpeg = bytes.starts_with(b"\xff\xd8\xff");
    if is_png != name.ends_with(".png") || is_png == is_jpeg {
        let wrong = "what was sent is no photograph of the kind its name says";
        return Err(
            Refusal::status(StatusCode::UNSUPPORTED_MEDIA_TYPE, wrong).hint("a JPEG or a PNG")
        );
    }
    disk::write(&desk.document.with_file_name(name), bytes)
        .map_err(|error| Refusal::fault(format!("{error:#}")))?;
    Ok(answer::sent(StatusCode::OK, "application/json", "null"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builds::{Read, read};
    use std::collections::BTreeMap;
    use std::path::Path;

    #[test]
    fn only_photographs_are_photographs() {
        for good in ["photo-motor-phases.jpg", "a.png", "B_2.jpeg"] {
            assert!(is_photo(good), "{good}");
        }
        for bad in
            ["build.toml", "x.svg", ".png", "../a.png", "a/b.png", "a.png.toml", "a b.png", ""]
        {
            assert!(!is_photo(bad), "{bad}");
        }
    }

    #[test]
    fn every_reading_of_the_example_leads_to_its_key() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../builds/orchard-truck");
        let Read::Planned(planned, _) =
            read(&folder.join("build.toml"), &BTreeMap::new()).unwrap()
        else {
            panic!("the example can be read");
        };
        assert!(!planned.plan.faces.is_empty());
        for surveyed in &planned.plan.faces {
            leads_back(&planned.build, surveyed);
        }
    }

    fn leads_back(build: &Build, surveyed: &SurveyedFace) {
        let (device, port) = surveyed.port.split_once('.').unwrap();
        let device = build.devices.iter().find(|d| d.id.value == device).unwrap();
        let port = device.ports.iter().find(|p| p.id == port).unwrap();
        let face = port.face.as_ref().unwrap();
        assert!(surveyed.readings.len() >= 10, "{}", surveyed.port);
        let found = places(Some(face), surveyed);
        assert_eq!(found.len(), surveyed.readings.len());
        for (place, reading) in found.into_iter().zip(&surveyed.readings) {
            let place = place.unwrap_or_else(|| panic!("{} is written nowhere", reading.what));
            if let [kind, name, _] = place.key.as_slice()
                && kind != "reading"
            {
                assert_eq!(reading.what, format!("diameter of {name}"));
            }
        }
    }
}
