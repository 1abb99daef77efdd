//! Which path leads where. A handler is a few lines: find the build, ask the module that knows, send.

use std::convert::Infallible;
use std::sync::{Arc, PoisonError};

use axum::Router;
use axum::extract::{Path, Query, Request, State};
use axum::http::{StatusCode, Uri};
use axum::middleware;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

use super::answer::{asked, body, json, refused, sent, work};
use super::calls;
use super::desk::Desk;
use super::guard::{Gate, guard};
use super::history::{Called, Texts};
use super::outcome::{compared, milliseconds, outcome};
use super::refusal::Refusal;
use super::room::Room;
use super::{
    books, edit, faces, figures, knobs, pages, plates, questions, shop, strips, words,
};
use crate::disk;
use crate::examples;
use crate::wire::{
    self, AboutBenchWire, AnswersAsked, BookAsked, ConflictAsked, EditAsked, FigureAsked,
    HelloWire, KnobsWire, MadeWire, NewBuildAsked, PlanSheetWire, SetAsked, ShopAsked,
    StepAsked, SweepAsked, TextAsked, WhatIfAsked, WhatIfWire, WordsAsked,
};

type Shared = State<Arc<Room>>;

/// The whole interface, guarded.
pub(crate) fn app(room: Arc<Room>, port: u16) -> Router {
    let router = Router::new()
        .route("/api/about", get(about))
        .route("/api/events", get(events))
        .route("/api/openapi.json", get(openapi))
        .route("/api/builds", get(builds).post(new_build))
        .route("/api/questions", get(first_questions).post(draft))
        .route("/api/builds/{id}", get(build))
        .route("/api/builds/{id}/picture.svg", get(picture))
        .route("/api/builds/{id}/planned", get(planned))
        .route("/api/builds/{id}/plan", get(plan))
        .route("/api/builds/{id}/strips", get(all_strips))
        .route("/api/builds/{id}/knobs", get(all_knobs))
        .route("/api/builds/{id}/text", post(text))
        .route("/api/builds/{id}/set", post(set))
        .route("/api/builds/{id}/undo", post(undo))
        .route("/api/builds/{id}/redo", post(redo))
        .route("/api/builds/{id}/conflict", post(conflict))
        .route("/api/builds/{id}/what-if", post(what_if))
        .route("/api/builds/{id}/shop", post(shop_part))
        .route("/api/builds/{id}/ends/{run}/{cable}/{side}", get(end))
        .route("/api/builds/{id}/plates", get(all_plates))
        .route("/api/builds/{id}/files/{name}", get(file))
        .route("/api/builds/{id}/drawings/{name}", get(drawing))
        .route("/api/builds/{id}/faces", get(all_faces))
        .route("/api/builds/{id}/photos/{name}", get(photo).post(new_photo))
        .route("/api/builds/{id}/book", post(begin_book))
        .route("/api/builds/{id}/book/{job}", get(book))
        .route("/api/units", get(async || json(&words::units())))
        .route("/api/keys", get(async || json(&words::keys())))
        .route("/api/book-parts", get(async || json(&words::book_parts())))
        .route("/api/figures", get(async || json(&wire::figures(plan::figures::all()))))
        .route("/api/figures/{name}", post(figure))
        .route("/api/figures/{name}/sweep", post(sweep))
        .route("/api/shelf", get(shelf))
        .route("/api/shelf/kinds", get(async || json(&words::shelf_kinds())))
        .method_not_allowed_fallback(not_so)
        .fallback(page);
    router.with_state(room).layer(middleware::from_fn_with_state(Gate::new(port), guard))
}

async fn not_so() -> Response {
    refused(&Refusal::status(
        StatusCode::METHOD_NOT_ALLOWED,
        "this is read with GET, or changed with POST",
    ))
}

async fn page(uri: Uri) -> Response {
    if uri.path() == "/api" || uri.path().starts_with("/api/") {
        return refused(
            &Refusal::absent("there is no such call").hint("/api/openapi.json lists all"),
        );
    }
    pages::page(uri.path())
}

async fn about(State(room): Shared) -> Response {
    json(&AboutBenchWire {
        program: env!("CARGO_PKG_NAME"),
        version: env!("CARGO_PKG_VERSION"),
        folder: room.folder.display().to_string(),
        only: room.is_build().then(|| super::room::HERE.to_owned()),
        units: words::systems(),
        shelf_rows: words::shelf_rows(),
    })
}

async fn openapi() -> Response {
    sent(
        StatusCode::OK,
        "application/json",
        wire::text(&wire::openapi(&calls::calls(), &calls::events())),
    )
}

async fn events(State(room): Shared) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let listening = room.events.listen();
    let start = room.start;
    let hello = move || {
        let hello = HelloWire { version: env!("CARGO_PKG_VERSION"), start };
        Event::default().event("hello").data(wire::line(&hello))
    };
    let first = hello();
    // A tab that was too slow for what happened begins again, as after a restart.
    let rest = BroadcastStream::new(listening).map(move |told| {
        Ok(match told {
            Ok(event) => Event::default().event(event.name).data(event.data),
            Err(_) => hello(),
        })
    });
    Sse::new(tokio_stream::once(Ok(first)).chain(rest)).keep_alive(KeepAlive::default())
}

async fn builds(State(room): Shared) -> Response {
    work(move || Ok(json(&room.builds()))).await
}

async fn new_build(State(room): Shared, request: Request) -> Response {
    let asked: NewBuildAsked = match asked(request).await {
        Ok(asked) => asked,
        Err(refusal) => return refused(&refusal),
    };
    work(move || {
        let files: Vec<(String, String)> = match (&asked.example, &asked.answers) {
            (Some(_), Some(_)) => {
                return Err(Refusal::bad(
                    "either an example is copied or questions are answered",
                ));
            }
            (Some(name), None) => {
                let found = examples::ALL.iter().find(|e| e.name == name);
                let found = found.ok_or_else(|| Refusal::absent("there is no such example"))?;
                found.files.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned())).collect()
            }
            (None, Some(answers)) => {
                vec![(disk::DOCUMENT.to_owned(), questions::document(answers)?)]
            }
            (None, None) => {
                vec![(disk::DOCUMENT.to_owned(), plan::given::reference::starter())]
            }
        };
        Ok(json(&MadeWire { id: room.make(&asked.name, &files)? }))
    })
    .await
}

async fn first_questions() -> Response {
    json(&questions::ALL.iter().map(questions::wire).collect::<Vec<_>>())
}

async fn draft(request: Request) -> Response {
    match asked::<AnswersAsked>(request).await {
        Ok(asked) => json(&questions::draft(&asked.answers)),
        Err(refusal) => refused(&refusal),
    }
}

/// Does something with a build, on the threads for work.
async fn with(
    room: Arc<Room>,
    id: String,
    then: impl FnOnce(&Arc<Room>, &Arc<Desk>) -> Result<Response, Refusal> + Send + 'static,
) -> Response {
    work(move || {
        let desk = room.desk(&id)?;
        then(&room, &desk)
    })
    .await
}

/// The same for a call that asks something.
async fn with_asked<T: wire::Asked + Send + 'static>(
    room: Arc<Room>,
    id: String,
    request: Request,
    then: impl FnOnce(&Arc<Room>, &Arc<Desk>, T) -> Result<Response, Refusal> + Send + 'static,
) -> Response {
    match asked::<T>(request).await {
        Ok(asked) => with(room, id, move |room, desk| then(room, desk, asked)).await,
        Err(refusal) => refused(&refusal),
    }
}

async fn build(State(room): Shared, Path(id): Path<String>) -> Response {
    // The files a document names are known once it has been planned.
    with(room, id, |room, desk| room.outcome(desk).map(|_| json(&desk.wire()))).await
}

async fn picture(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| {
        let outcome = room.outcome(desk)?;
        let plan = outcome.plan().ok_or_else(unread)?;
        Ok(sent(StatusCode::OK, "image/svg+xml", strips::picture(plan)))
    })
    .await
}

fn unread() -> Refusal {
    Refusal::absent("the document could not be read yet, so there is nothing to show")
        .hint("`errors` of /planned says where")
}

async fn planned(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| Ok(json(&room.outcome(desk)?.wire(&desk.id)))).await
}

async fn plan(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| {
        let outcome = room.outcome(desk)?;
        let planned = outcome.planned.as_ref();
        Ok(json(&PlanSheetWire {
            version: outcome.version,
            of: outcome.of,
            plan: planned.map(|p| wire::plan(&p.plan, &p.file)),
        }))
    })
    .await
}

async fn all_strips(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| Ok(json(&strips::strips(&*room.outcome(desk)?)))).await
}

async fn all_knobs(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| {
        let (texts, _) = desk.texts();
        let outcome = room.outcome(desk)?;
        let planned = outcome.planned.as_ref();
        let knobs = planned.map_or_else(Vec::new, |p| knobs::knobs(&p.build, &p.plan, &texts));
        Ok(json(&KnobsWire { version: outcome.version, knobs }))
    })
    .await
}

async fn text(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: TextAsked| {
        let called = Called {
            label: asked.label.unwrap_or_else(|| "typing".to_owned()),
            gather: asked.gather,
        };
        let changed = desk.change(
            Some(asked.base),
            &called,
            asked.asker,
            |texts| {
                let name = known_file(desk, texts, asked.file.as_deref())?;
                let mut texts = texts.clone();
                texts.insert(name, asked.text);
                Ok(texts)
            },
            || room.plan(desk),
        )?;
        Ok(json(&changed))
    })
    .await
}

/// The name of a file of the build; no other can be written.
fn known_file(desk: &Desk, texts: &Texts, name: Option<&str>) -> Result<String, Refusal> {
    let document = desk.document.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let name = name.unwrap_or(&document);
    if texts.contains_key(name) || name == disk::SHOP {
        Ok(name.to_owned())
    } else {
        Err(Refusal::absent("the build has no such file")
            .hint("a face file is made by naming it in the document"))
    }
}

async fn set(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: SetAsked| {
        let called = Called {
            label: asked.label.unwrap_or_else(|| label_of(&asked.edits)),
            gather: asked.gather,
        };
        let made = |texts: &Texts| edited(desk, texts, &asked.edits);
        let changed = desk.change(None, &called, asked.asker, made, || room.plan(desk))?;
        Ok(json(&changed))
    })
    .await
}

fn label_of(edits: &[EditAsked]) -> String {
    edits.first().map_or_else(|| "nothing".to_owned(), |edit| edit.path.join("."))
}

fn edited(desk: &Desk, texts: &Texts, edits: &[EditAsked]) -> Result<Texts, Refusal> {
    let mut texts = texts.clone();
    for of in edits {
        let name = known_file(desk, &texts, of.file.as_deref())?;
        let text = texts.get(&name).map_or("", String::as_str);
        let text = edit::set(text, of).map_err(Refusal::bad)?;
        texts.insert(name, text);
    }
    Ok(texts)
}

async fn undo(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: StepAsked| {
        Ok(json(&desk.step(false, asked.asker, || room.plan(desk))?))
    })
    .await
}

async fn redo(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: StepAsked| {
        Ok(json(&desk.step(true, asked.asker, || room.plan(desk))?))
    })
    .await
}

async fn conflict(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: ConflictAsked| {
        Ok(json(&desk.settle(asked.keep, asked.asker, || room.plan(desk))?))
    })
    .await
}

async fn what_if(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: WhatIfAsked| {
        let newest = || {
            let (Some(asker), Some(turn)) = (&asked.asker, asked.turn) else { return true };
            let mut turns = room.turns.lock().unwrap_or_else(PoisonError::into_inner);
            if turns.len() > 100 {
                turns.clear();
            }
            let last = turns.entry(asker.clone()).or_default();
            *last = turn.max(*last);
            *last == turn
        };
        let (texts, version) = desk.texts();
        if !newest() {
            return Err(Refusal::late("a later question has overtaken this one", version));
        }
        let before = room.outcome(desk)?;
        let copy = edited(desk, &texts, &asked.edits)?;
        let new =
            outcome(room.planning(), &desk.document, &copy, version, &before.notices, None);
        let (notices, gone) = match (&new.planned, &new.fault) {
            (_, Some(fault)) => return Err(Refusal::fault(fault.clone())),
            (Some(p), None) => compared(&p.plan, &p.file, &before.notices),
            (None, None) => (Vec::new(), Vec::new()),
        };
        let brief = asked.brief == Some(true);
        let planned = new.planned.as_ref();
        Ok(json(&WhatIfWire {
            version,
            verdict: new.verdict(),
            counts: new.counts(),
            findings: notices,
            gone,
            plan: planned.filter(|_| !brief).map(|p| wire::plan(&p.plan, &p.file)),
            strips: planned.map(|_| strips::strips(&new)),
            took_ms: milliseconds(new.took),
            errors: new.errors,
        }))
    })
    .await
}

async fn shop_part(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: ShopAsked| {
        shop::add(room, desk, asked).map(|wire| json(&wire))
    })
    .await
}

async fn end(
    State(room): Shared,
    Path((id, run, cable, side)): Path<(String, String, String, String)>,
) -> Response {
    with(room, id, move |room, desk| {
        let outcome = room.outcome(desk)?;
        plates::end(outcome.plan().ok_or_else(unread)?, &run, &cable, &side)
    })
    .await
}

async fn all_plates(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| Ok(json(&plates::plates(&desk.id, &*room.outcome(desk)?))))
        .await
}

async fn file(State(room): Shared, Path((id, name)): Path<(String, String)>) -> Response {
    with(room, id, move |room, desk| {
        let outcome = room.outcome(desk)?;
        plates::file(outcome.plan().ok_or_else(unread)?, &name)
    })
    .await
}

async fn drawing(State(room): Shared, Path((id, name)): Path<(String, String)>) -> Response {
    with(room, id, move |room, desk| {
        let outcome = room.outcome(desk)?;
        plates::drawing(outcome.plan().ok_or_else(unread)?, &name)
    })
    .await
}

async fn all_faces(State(room): Shared, Path(id): Path<String>) -> Response {
    with(room, id, |room, desk| Ok(json(&faces::faces(desk, &*room.outcome(desk)?)))).await
}

async fn photo(State(room): Shared, Path((id, name)): Path<(String, String)>) -> Response {
    with(room, id, move |_, desk| faces::photo(desk, &name)).await
}

async fn new_photo(
    State(room): Shared,
    Path((id, name)): Path<(String, String)>,
    request: Request,
) -> Response {
    match body(request, faces::PHOTO_MAX).await {
        Ok(bytes) => {
            with(room, id, move |_, desk| faces::keep_photo(desk, &name, &bytes)).await
        }
        Err(refusal) => refused(&refusal),
    }
}

async fn begin_book(State(room): Shared, Path(id): Path<String>, request: Request) -> Response {
    with_asked(room, id, request, |room, desk, asked: BookAsked| {
        let chapters = books::chapters(&asked.parts.unwrap_or_default())?;
        let outcome = room.outcome(desk)?;
        outcome.plan().ok_or_else(unread)?;
        Ok(json(&books::begin(&room.books, &room.events, &desk.id, outcome, chapters)))
    })
    .await
}

async fn book(State(room): Shared, Path((id, job)): Path<(String, String)>) -> Response {
    let number = job.strip_suffix(".pdf").and_then(|job| job.parse().ok());
    match number.and_then(|job| room.books.get(&id, job)) {
        Some(pdf) => super::answer::file("book.pdf", pdf.to_vec()),
        None => refused(
            &Refusal::absent("there is no such book, or not yet")
                .hint("the event `book` tells when it is ready"),
        ),
    }
}

async fn figure(Path(name): Path<String>, request: Request) -> Response {
    match asked::<FigureAsked>(request).await {
        Ok(asked) => work(move || figures::answer(&name, asked).map(|wire| json(&wire))).await,
        Err(refusal) => refused(&refusal),
    }
}

async fn sweep(Path(name): Path<String>, request: Request) -> Response {
    match asked::<SweepAsked>(request).await {
        Ok(asked) => work(move || figures::sweep(&name, &asked).map(|wire| json(&wire))).await,
        Err(refusal) => refused(&refusal),
    }
}

async fn shelf(
    query: Result<Query<WordsAsked>, axum::extract::rejection::QueryRejection>,
) -> Response {
    match query {
        Ok(Query(asked)) => json(&words::looked_for(&asked)),
        Err(_) => Refusal::bad("the words to look for cannot be read").into_response(),
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        refused(&self)
    }
}
