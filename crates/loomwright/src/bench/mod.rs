//! The bench: the server behind the pages in which a build is seen and changed.
//!
//! A change goes `routes` -> `desk` (history, disk) -> `planner` -> `outcome` -> `events`. Everything a page
//! shows is worked out here; the pages only draw. docs/bench-api.md is the contract.

pub(crate) mod events;
pub(crate) mod history;
pub(crate) mod edit;
pub(crate) mod refusal;
pub(crate) mod outcome;
pub(crate) mod desk;
pub(crate) mod planner;
pub(crate) mod books;
pub(crate) mod room;
pub(crate) mod answer;
pub(crate) mod guard;
pub(crate) mod shapes;
pub(crate) mod strips;
pub(crate) mod labels;
pub(crate) mod plates;
pub(crate) mod faces;
pub(crate) mod knobs;
pub(crate) mod questions;
pub(crate) mod figures;
pub(crate) mod words;
pub(crate) mod shop;
pub(crate) mod pages;
pub(crate) mod calls;
pub(crate) mod routes;
pub(crate) mod serve;
