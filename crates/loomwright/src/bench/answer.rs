//! How answers are sent, and how bodies are taken: bounded, and always with an answer.

use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::http::header::{self, HeaderValue};
use axum::http::{HeaderMap, StatusCode};
use axum::response::Response;

use super::outcome::said;
use super::refusal::Refusal;
use crate::wire;

/// A text of a build, and what JSON adds to it, is no longer.
pub(crate) const BODY_MAX: usize = 4 << 20;

/// An answer with its media type.
pub(crate) fn sent(status: StatusCode, media: &'static str, body: impl Into<Body>) -> Response {
    let mut response = Response::new(body.into());
    *response.status_mut() = status;
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(media));
    response
}

/// JSON.
pub(crate) fn json<T: wire::Told>(what: &T) -> Response {
    sent(StatusCode::OK, "application/json", wire::line(what))
}

/// Why not.
pub(crate) fn refused(refusal: &Refusal) -> Response {
    sent(refusal.status, "application/json", wire::line(&refusal.wire()))
}

/// The media type of a file by its name.
pub(crate) fn media(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "svg" => "image/svg+xml",
        "pdf" => "application/pdf",
        "dxf" => "image/vnd.dxf",
        "step" => "model/step",
        "glb" => "model/gltf-binary",
        "csv" => "text/csv; charset=utf-8",
        "xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        _ => "application/octet-stream",
    }
}

/// A file, shown in place or kept under its name.
pub(crate) fn file(name: &str, bytes: Vec<u8>) -> Response {
    let mut response = sent(StatusCode::OK, media(name), bytes);
    let shown =
        matches!(media(name), "image/svg+xml" | "application/pdf" | "image/png" | "image/jpeg");
    let how = if shown { "inline" } else { "attachment" };
    // Names are made of letters, digits, - and . only, so they need no quoting beyond this.
    if let Ok(value) = HeaderValue::from_str(&format!("{how}; filename=\"{name}\"")) {
        response.headers_mut().insert(header::CONTENT_DISPOSITION, value);
    }
    response
}

/// Does work that takes a while on the threads for that; a panic in it is an answer like any other.
pub(crate) async fn work(
    work: impl FnOnce() -> Result<Response, Refusal> + Send + 'static,
) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(Ok(response)) => response,
        Ok(Err(refusal)) => refused(&refusal),
        Err(broken) => refused(&fault(broken)),
    }
}

fn fault(broken: tokio::task::JoinError) -> Refusal {
    let words = match broken.try_into_panic() {
        Ok(panic) => said(&*panic),
        Err(_) => "the bench is being closed".to_owned(),
    };
    Refusal::fault(words).hint("nothing was lost; what was asked can be asked again")
}

/// The body of a request, at most `most` bytes.
///
/// # Errors
/// When it is longer, or breaks off.
pub(crate) async fn body(request: Request, most: usize) -> Result<Bytes, Refusal> {
    let stated = stated(request.headers());
    let too_long = || {
        let wrong = format!("what was sent is larger than {most} bytes");
        Refusal::status(StatusCode::PAYLOAD_TOO_LARGE, wrong)
    };
    if stated.is_some_and(|length| length > most as u64) {
        return Err(too_long());
    }
    axum::body::to_bytes(request.into_body(), most).await.map_err(|error| {
        let mut cause: Option<&dyn std::error::Error> = Some(&error);
        while let Some(error) = cause {
            if error.is::<http_body_util::LengthLimitError>() {
                return too_long();
            }
            cause = error.source();
        }
        Refusal::bad("what was sent broke off")
    })
}

fn stated(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

/// What a call asks, from its body.
///
/// # Errors
/// When it is too long or cannot be understood.
pub(crate) async fn asked<T: wire::Asked>(request: Request) -> Result<T, Refusal> {
    let body = body(request, BODY_MAX).await?;
    wire::asked(&body).map_err(|wrong| {
        Refusal::bad(format!("what was sent cannot be understood: {wrong}"))
            .hint("docs/bench-api.md and /api/openapi.json say what each call takes")
    })
}
