//! Every call of the interface, for its description; a test asks each of them, so none is missing or false.

use crate::wire::{self, Call, Shape, shape};

fn get(path: &'static str, what: &'static str, answers: Shape) -> Call {
    Call { method: "get", path, what, asks: Shape::None, answers }
}

fn post(path: &'static str, what: &'static str, asks: Shape, answers: Shape) -> Call {
    Call { method: "post", path, what, asks, answers }
}

/// All calls.
pub(crate) fn calls() -> Vec<Call> {
    let mut all = of_the_folder();
    all.extend(of_a_build());
    all.extend(of_its_sheets());
    all.extend(of_the_program());
    all
}

/// What events carry.
pub(crate) fn events() -> Vec<Shape> {
    vec![
        shape::<wire::HelloWire>(),
        shape::<wire::ChangedWire>(),
        shape::<wire::PlannedWire>(),
        shape::<wire::OutsideWire>(),
        shape::<wire::ConflictEventWire>(),
        shape::<wire::UnsavedWire>(),
        shape::<wire::BookEventWire>(),
        shape::<wire::ErrorWire>(),
    ]
}

fn of_the_folder() -> Vec<Call> {
    vec![
        get(
            "/api/about",
            "The program and the folder it has open",
            shape::<wire::AboutBenchWire>(),
        ),
        get("/api/events", "What happens, as a stream", Shape::Bytes("text/event-stream")),
        get("/api/openapi.json", "This interface", Shape::Bytes("application/json")),
        get("/api/builds", "Builds of the folder, and examples", shape::<wire::BuildsWire>()),
        post(
            "/api/builds",
            "Make a build",
            shape::<wire::NewBuildAsked>(),
            shape::<wire::MadeWire>(),
        ),
        get(
            "/api/questions",
            "The first questions of a new build",
            shape::<Vec<wire::QuestionWire>>(),
        ),
        post(
            "/api/questions",
            "The document that answers make",
            shape::<wire::AnswersAsked>(),
            shape::<wire::DraftWire>(),
        ),
    ]
}

fn of_a_build() -> Vec<Call> {
    let changed = shape::<wire::ChangedWire>();
    vec![
        get("/api/builds/{id}", "A build with its texts", shape::<wire::DeskWire>()),
        get("/api/builds/{id}/picture.svg", "A small picture", Shape::Bytes("image/svg+xml")),
        get(
            "/api/builds/{id}/planned",
            "What the newest version came to",
            shape::<wire::PlannedWire>(),
        ),
        get("/api/builds/{id}/plan", "The whole plan", shape::<wire::PlanSheetWire>()),
        get("/api/builds/{id}/strips", "Every run laid straight", shape::<wire::StripsWire>()),
        get("/api/builds/{id}/knobs", "What a slider can move", shape::<wire::KnobsWire>()),
        post("/api/builds/{id}/text", "Replace a text", shape::<wire::TextAsked>(), changed),
        post("/api/builds/{id}/set", "Set or remove keys", shape::<wire::SetAsked>(), changed),
        post("/api/builds/{id}/undo", "A step back", shape::<wire::StepAsked>(), changed),
        post("/api/builds/{id}/redo", "A step forth", shape::<wire::StepAsked>(), changed),
        post(
            "/api/builds/{id}/conflict",
            "Choose between two versions",
            shape::<wire::ConflictAsked>(),
            changed,
        ),
        post(
            "/api/builds/{id}/what-if",
            "Plan a changed copy",
            shape::<wire::WhatIfAsked>(),
            shape::<wire::WhatIfWire>(),
        ),
        post(
            "/api/builds/{id}/shop",
            "Add a part to the shop's shelf",
            shape::<wire::ShopAsked>(),
            shape::<wire::ShopWire>(),
        ),
    ]
}

fn of_its_sheets() -> Vec<Call> {
    vec![
        get(
            "/api/builds/{id}/ends/{run}/{cable}/{side}",
            "An end as bodies (from.glb, to.glb) or as a section (from.svg, to.svg)",
            Shape::Bytes("model/gltf-binary"),
        ),
        get("/api/builds/{id}/plates", "Plates and blocks", shape::<wire::PlatesWire>()),
        get(
            "/api/builds/{id}/files/{name}",
            "A file for the machinist, or a table or labels of the kit",
            Shape::Bytes("application/octet-stream"),
        ),
        get(
            "/api/builds/{id}/drawings/{name}",
            "A drawing of the book",
            Shape::Bytes("image/svg+xml"),
        ),
        get("/api/builds/{id}/faces", "Surveyed faces", shape::<wire::FacesWire>()),
        get("/api/builds/{id}/photos/{name}", "A photograph", Shape::Bytes("image/jpeg")),
        post(
            "/api/builds/{id}/photos/{name}",
            "Put a photograph into the folder",
            Shape::Bytes("image/jpeg"),
            Shape::None,
        ),
        post(
            "/api/builds/{id}/book",
            "Begin to set a book",
            shape::<wire::BookAsked>(),
            shape::<wire::BookJobWire>(),
        ),
        get(
            "/api/builds/{id}/book/{job}",
            "A book that is ready (JOB.pdf)",
            Shape::Bytes("application/pdf"),
        ),
    ]
}

fn of_the_program() -> Vec<Call> {
    vec![
        get("/api/units", "How numbers are shown on an axis", shape::<Vec<wire::UnitWire>>()),
        get("/api/keys", "Every key of the document", shape::<Vec<wire::TableWire>>()),
        get("/api/book-parts", "Chapters of the book", shape::<Vec<wire::BookPartWire>>()),
        get("/api/figures", "Every calculator", shape::<Vec<wire::FigureWire>>()),
        post(
            "/api/figures/{name}",
            "Work one out",
            shape::<wire::FigureAsked>(),
            shape::<wire::FigureAnswerWire>(),
        ),
        post(
            "/api/figures/{name}/sweep",
            "Its outputs over one input",
            shape::<wire::SweepAsked>(),
            shape::<wire::SweepWire>(),
        ),
        get("/api/shelf", "Look for parts: ?words=, ?kind=", shape::<Vec<wire::HitWire>>()),
        get(
            "/api/shelf/kinds",
            "Kinds of part the shop can add",
            shape::<Vec<wire::ShelfKindWire>>(),
        ),
    ]
}
