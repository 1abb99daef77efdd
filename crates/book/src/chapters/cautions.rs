//! The usual cautions of the work, and what this book does not settle.

use crate::model::Pages;
use crate::words::Words;

/// Common practice of high-voltage work; what a standard says of a value stands beside that value.
const CAUTIONS: [&str; 9] = [
    "Before work on the traction system: switch off, isolate at the service disconnect, lock and tag it, wait \
     for the discharge, measure at the terminals, and prove the meter on a known source before and after.",
    "A battery cannot be switched off. Its terminals and everything up to the first contactor or open service \
     disconnect stay at full voltage.",
    "Work near live parts only with the gloves, face shield, insulated tools and second person that local rules \
     ask for, and with rings and watches off.",
    "A discharge resistor can have failed. Measure, do not wait and trust.",
    "Never open a connector, contactor or service disconnect under load; a DC arc does not go out by itself.",
    "A fuse is replaced by one of the same type, rating and breaking capacity, after the cause is found.",
    "Torques hold for the lubrication and finish stated. An oiled thread at a dry torque is overloaded.",
    "Meters, leads and probes must be rated for the voltage and the measurement category of the place.",
    "After the first drive, check every torque mark and look for heat, chafe and movement.",
];

pub(crate) fn write(_words: &Words<'_>, pages: &mut Pages) {
    pages.text(
        "This book compares what the build states with published relations and names its sources. It does not \
         replace local codes, type approval, the makers' own documents or the judgement of a licensed \
         engineer or electrician. Where they differ from it, they decide.",
    );
    pages.caution(CAUTIONS.map(str::to_owned).to_vec());
}
