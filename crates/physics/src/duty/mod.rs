//! From a vehicle that is driven to the currents of its cables.
//!
//! One file a relation, in the order of the chain: the road's force, the machine's current, the battery's
//! voltage under load, the ripple of the link, and what a current that changes means for a cable.

pub mod vehicle;
pub mod machine;
pub mod motor_pm;
pub mod motor_im;
pub mod nameplate;
pub mod battery;
pub mod ripple;
pub mod windows;
pub mod chain;
