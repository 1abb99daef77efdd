//! Why a call is not answered with what it asked for.

use axum::http::StatusCode;

use crate::wire::ErrorWire;

/// A status, what is wrong, and what to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Refusal {
    /// HTTP status.
    pub(crate) status: StatusCode,
    /// What is wrong.
    pub(crate) error: String,
    /// What to do.
    pub(crate) hint: Option<String>,
    /// The newest version, where a change was made from an older one.
    pub(crate) version: Option<u64>,
}

impl Refusal {
    fn new(status: StatusCode, error: impl Into<String>) -> Refusal {
        Refusal { status, error: error.into(), hint: None, version: None }
    }

    /// What was asked cannot be understood.
    pub(crate) fn bad(error: impl Into<String>) -> Refusal {
        Refusal::new(StatusCode::BAD_REQUEST, error)
    }

    /// There is no such thing.
    pub(crate) fn absent(error: impl Into<String>) -> Refusal {
        Refusal::new(StatusCode::NOT_FOUND, error)
    }

    /// Something else came first.
    pub(crate) fn late(error: impl Into<String>, version: u64) -> Refusal {
        Refusal { version: Some(version), ..Refusal::new(StatusCode::CONFLICT, error) }
    }

    /// Not from here.
    pub(crate) fn foreign(error: impl Into<String>) -> Refusal {
        Refusal::new(StatusCode::FORBIDDEN, error)
    }

    /// Not in this way.
    pub(crate) fn status(status: StatusCode, error: impl Into<String>) -> Refusal {
        Refusal::new(status, error)
    }

    /// A fault of the program or of the disk.
    pub(crate) fn fault(error: impl Into<String>) -> Refusal {
        Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, error)
    }

    /// With what to do.
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Refusal {
        self.hint = Some(hint.into());
        self
    }

    /// As it is sent.
    pub(crate) fn wire(&self) -> ErrorWire {
        ErrorWire { error: self.error.clone(), hint: self.hint.clone(), version: self.version }
    }
}
