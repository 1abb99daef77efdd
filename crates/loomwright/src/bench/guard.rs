//! Who may ask: only pages of this bench, on this machine, in ways that cannot be forged from elsewhere.
//!
//! Listening on loopback keeps other machines out. It does not keep out a page of another site in the same
//! browser, which may send requests here and, with a name that leads to 127.0.0.1, even read the answers. So
//! the host must be one of ours, an origin must be ours, and a change must be sent as JSON, which another
//! site's page cannot do without asking first; nobody ever allows it.

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::Response;

use super::answer::refused;
use super::refusal::Refusal;

/// The names this bench goes by.
#[derive(Clone)]
pub(crate) struct Gate {
    hosts: Vec<String>,
}

impl Gate {
    /// The names of loopback on a port.
    pub(crate) fn new(port: u16) -> Gate {
        let names = ["127.0.0.1", "localhost", "[::1]"];
        Gate { hosts: names.iter().map(|name| format!("{name}:{port}")).collect() }
    }

    /// Whether a request may go on.
    ///
    /// # Errors
    /// Why it may not.
    pub(crate) fn pass(
        &self,
        method: &Method,
        uri: &Uri,
        headers: &HeaderMap,
    ) -> Result<(), Refusal> {
        self.is_ours(uri, headers)?;
        if tricky(uri.path()) {
            return Err(Refusal::bad("the path leads nowhere"));
        }
        let is_call = uri.path().starts_with("/api");
        let site = text(headers, &SITE);
        if is_call && site.is_some_and(|site| site != "same-origin" && site != "none") {
            return Err(Refusal::foreign("a page of another site may not ask here"));
        }
        if *method == Method::POST {
            let kind = text(headers, &header::CONTENT_TYPE).unwrap_or_default();
            let kind = kind.split(';').next().unwrap_or_default().trim();
            let is_photo = uri.path().contains("/photos/");
            if kind != "application/json" && !(is_photo && kind.starts_with("image/")) {
                let wrong = "a change is sent with content-type: application/json";
                return Err(Refusal::status(StatusCode::UNSUPPORTED_MEDIA_TYPE, wrong));
            }
        } else if *method != Method::GET && *method != Method::HEAD {
            let wrong = format!("{method} is not used here: GET to read, POST to change");
            return Err(Refusal::status(StatusCode::METHOD_NOT_ALLOWED, wrong));
        }
        Ok(())
    }

    fn is_ours(&self, uri: &Uri, headers: &HeaderMap) -> Result<(), Refusal> {
        let ours = |host: &str| self.hosts.iter().any(|own| own.eq_ignore_ascii_case(host));
        let mut hosts = headers.get_all(header::HOST).iter();
        let host = hosts.next().and_then(|value| value.to_str().ok());
        if !host.is_some_and(ours) || hosts.next().is_some() {
            return Err(Refusal::foreign("the bench does not go by this name")
                .hint(format!("open http://{}/", self.hosts[0])));
        }
        if uri.authority().is_some_and(|authority| !ours(authority.as_str())) {
            return Err(Refusal::foreign("the bench is no way to other machines"));
        }
        for origin in headers.get_all(header::ORIGIN) {
            let origin = origin.to_str().unwrap_or_default();
            if !origin.strip_prefix("http://").is_some_and(ours) {
                return Err(Refusal::foreign("a page of another site may not ask here"));
            }
        }
        Ok(())
    }
}

/// What the browser says of the page that asks.
const SITE: HeaderName = HeaderName::from_static("sec-fetch-site");

fn text<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    headers.get(name).and_then(|value| value.to_str().ok())
}

/// Whether a path tries to leave where it is, in one of the spellings there are for that.
fn tricky(path: &str) -> bool {
    let low = path.to_ascii_lowercase();
    let coded = ["%2e", "%2f", "%5c", "%00", "%25"];
    low.contains('\\')
        || low.contains("//")
        || coded.iter().any(|code| low.contains(code))
        || low.split('/').any(|part| part == ".." || part == ".")
}

/// What every answer carries: nothing but our own scripts runs, and nothing is guessed or kept by others.
const ALWAYS: [(HeaderName, &str); 6] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; \
         img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; frame-src 'self' blob:; \
         object-src 'self' blob:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'self'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "SAMEORIGIN"),
    (header::REFERRER_POLICY, "no-referrer"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
];

/// Lets a request pass, or says why not; marks every answer.
pub(crate) async fn guard(State(gate): State<Gate>, request: Request, next: Next) -> Response {
    let passed = gate.pass(request.method(), request.uri(), request.headers());
    let mut response = match passed {
        Ok(()) => next.run(request).await,
        Err(refusal) => refused(&refusal),
    };
    let headers = response.headers_mut();
    for (name, value) in ALWAYS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    fn status(method: Method, uri: &str, headers: &[(&'static str, &str)]) -> Option<u16> {
        let mut map = HeaderMap::new();
        for (name, value) in headers {
            map.append(*name, HeaderValue::from_str(value).unwrap());
        }
        let passed = Gate::new(7373).pass(&method, &uri.parse().unwrap(), &map);
        passed.err().map(|refusal| refusal.status.as_u16())
    }

    const HERE: (&str, &str) = ("host", "127.0.0.1:7373");
    const JSON: (&str, &str) = ("content-type", "application/json");

    #[test]
    fn only_our_own_names_and_pages() {
        assert_eq!(status(Method::GET, "/", &[HERE]), None);
        assert_eq!(status(Method::GET, "/", &[("host", "LOCALHOST:7373")]), None);
        for host in
            ["127.0.0.1", "127.0.0.1:80", "build.example:7373", "127.0.0.1.example:7373", ""]
        {
            assert_eq!(status(Method::GET, "/", &[("host", host)]), Some(403), "{host}");
        }
        assert_eq!(status(Method::GET, "/", &[]), Some(403));
        assert_eq!(status(Method::GET, "/", &[HERE, HERE]), Some(403));
        assert_eq!(status(Method::GET, "http://other.example/", &[HERE]), Some(403));
        let own = ("origin", "http://127.0.0.1:7373");
        assert_eq!(status(Method::POST, "/api/builds", &[HERE, JSON, own]), None);
        for origin in
            ["http://other.example", "null", "https://127.0.0.1:7373", "http://127.0.0.1:1"]
        {
            let foreign = ("origin", origin);
            assert_eq!(status(Method::POST, "/api/builds", &[HERE, JSON, foreign]), Some(403));
            assert_eq!(status(Method::GET, "/api/builds", &[HERE, foreign]), Some(403));
        }
    }

    #[test]
    fn a_page_of_another_site_can_lead_here_and_ask_nothing() {
        let cross = ("sec-fetch-site", "cross-site");
        assert_eq!(status(Method::GET, "/", &[HERE, cross]), None);
        assert_eq!(status(Method::GET, "/api/builds", &[HERE, cross]), Some(403));
    }

    #[test]
    fn changes_are_json_and_other_methods_are_not_used() {
        for kind in [
            "text/plain",
            "application/x-www-form-urlencoded",
            "multipart/form-data",
            "image/png",
        ] {
            let kind = ("content-type", kind);
            assert_eq!(status(Method::POST, "/api/builds", &[HERE, kind]), Some(415));
        }
        assert_eq!(status(Method::POST, "/api/builds", &[HERE]), Some(415));
        assert_eq!(status(Method::DELETE, "/api/builds", &[HERE]), Some(405));
        assert_eq!(status(Method::OPTIONS, "/api/builds", &[HERE]), Some(405));
    }

    #[test]
    fn paths_lead_nowhere_else() {
        for path in [
            "/../x",
            "/a/%2e%2e/x",
            "/a/..%2Fx",
            "/api/builds/%2E",
            "/a%5cb",
            "/a%00",
            "//x",
            "/%252e",
        ] {
            assert_eq!(status(Method::GET, path, &[HERE]), Some(400), "{path}");
        }
    }
}
