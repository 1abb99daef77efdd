//! The pages themselves, built into the program.

use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, HeaderValue};
use axum::response::Response;

use super::answer::{refused, sent};
use super::refusal::Refusal;

/// A page or an asset; every path without an ending is the bench itself, which finds its own way.
pub(crate) fn page(path: &str) -> Response {
    let name = path.trim_start_matches('/');
    let last = name.rsplit('/').next().unwrap_or_default();
    let name = if name.is_empty() || !last.contains('.') { "index.html" } else { name };
    let Some(file) = ::pages::file(name) else {
        return refused(
            &Refusal::absent("there is no such page").hint("the bench begins at /"),
        );
    };
    let mut response = sent(StatusCode::OK, file.media, file.bytes);
    // Assets carry a digest of their content in their names; pages are asked for again each time.
    let keep = if name.starts_with("assets/") {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    response.headers_mut().insert(CACHE_CONTROL, HeaderValue::from_static(keep));
    response
}
