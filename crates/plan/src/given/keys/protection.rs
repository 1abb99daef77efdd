//! Keys of `[protection]`.

use physics::units::Dimension;

use super::{Kind, M, Table, celsius, key, length};

/// `[protection]`.
pub const PROTECTION: Table = Table {
    path: "protection",
    what: "Protection of the DC side",
    inner: &["branch"],
    keys: &[
        key("run", Kind::Text, r#""dc""#, "the DC run protected"),
        key("fuse", Kind::Text, r#""aR 250 A""#, "shelf id; chosen where absent"),
        key("fuse-class", Kind::Text, r#""aR""#, "class to choose from"),
        key("fuse-air", celsius(-60.0, 150.0), r#""60 degC""#, "air around the fuse"),
        key("contactor", Kind::Text, r#""contactor-450 250 A""#, "main contactor, shelf id"),
        key(
            "trip-current",
            Kind::Quantity(Dimension::Current, 1.0, 10_000.0),
            r#""300 A""#,
            "above it the battery's control opens the contactors",
        ),
        key(
            "trip-time",
            Kind::Quantity(Dimension::Time, 1e-3, 3600.0),
            r#""2 s""#,
            "from that current on until the contacts are open",
        ),
        key(
            "fuse-cycles",
            Kind::Count(1, 100_000),
            "10000",
            "how often in its life the fuse bears the peaks",
        ),
        key(
            "source-resistance",
            Kind::Quantity(Dimension::Resistance, 1e-5, 10.0),
            r#""60 mohm""#,
            "of the pack with its leads",
        ),
        key(
            "source-inductance",
            Kind::Quantity(Dimension::Inductance, 1e-9, 1e-2),
            r#""5 uH""#,
            "of the pack with its leads",
        ),
        key(
            "capacitance",
            Kind::Quantity(Dimension::Capacitance, 1e-9, 1.0),
            r#""1200 uF""#,
            "all DC links behind the pre-charge together",
        ),
        key(
            "precharge-resistance",
            Kind::Quantity(Dimension::Resistance, 0.1, 1e6),
            r#""60 ohm""#,
            "pre-charge resistor",
        ),
        key(
            "precharge-energy",
            Kind::Quantity(Dimension::Energy, 0.01, 1e6),
            r#""300 J""#,
            "pulse energy the resistor is rated for",
        ),
        key(
            "precharge-time",
            Kind::Quantity(Dimension::Time, 1e-3, 600.0),
            r#""0.5 s""#,
            "after which the main contactor closes",
        ),
        key(
            "discharge-resistance",
            Kind::Quantity(Dimension::Resistance, 1.0, 1e8),
            r#""33 kohm""#,
            "always across the link",
        ),
        key(
            "discharge-time",
            Kind::Quantity(Dimension::Time, 0.01, 3600.0),
            r#""120 s""#,
            "within which the link must be under 60 V",
        ),
        key(
            "discharge-power",
            Kind::Quantity(Dimension::Power, 0.01, 1e5),
            r#""100 W""#,
            "that resistor's rating where it sits",
        ),
        key(
            "y-capacitance",
            Kind::Quantity(Dimension::Capacitance, 1e-12, 1e-3),
            r#""0.4 uF""#,
            "to the chassis, all together",
        ),
        key(
            "ac-protected",
            Kind::Truth,
            "false",
            "whether the AC side has double insulation or housings as robust, so that the DC limit holds for both",
        ),
        key(
            "isolation-alarm",
            Kind::Quantity(Dimension::Resistance, 1.0, 1e10),
            r#""250 kohm""#,
            "insulation at which the vehicle's monitor warns",
        ),
    ],
};

/// `[[protection.branch]]`.
pub const BRANCH: Table = Table {
    path: "protection.branch",
    what: "A further circuit with a fuse of its own, as of a DC converter or a heater; written [[protection.branch]]",
    inner: &[],
    keys: &[
        key("name", Kind::Text, r#""heater""#, "what it feeds; needed"),
        key(
            "cable",
            Kind::Text,
            r#""flex-125""#,
            "shelf family of its cable; that of the run where absent",
        ),
        key("conductor", Kind::Size, r#""6 mm2""#, "size of its cable"),
        key("length", length(10.0, 50.0 * M), r#""1.8 m""#, "of its cable, one way"),
        key("air", celsius(-60.0, 150.0), r#""60 degC""#, "hottest air along it"),
        key(
            "rating",
            Kind::Quantity(Dimension::Current, 0.1, 2000.0),
            r#""45 A""#,
            "what its cable carries for ever where it lies",
        ),
        key(
            "current",
            Kind::Quantity(Dimension::Current, 0.1, 2000.0),
            r#""20 A""#,
            "continuous current",
        ),
        key(
            "peak",
            Kind::Quantity(Dimension::Current, 0.1, 5000.0),
            r#""32 A""#,
            "peak current",
        ),
        key(
            "peak-time",
            Kind::Quantity(Dimension::Time, 0.01, 3600.0),
            r#""5 s""#,
            "how long the peak lasts",
        ),
        key("fuse", Kind::Text, r#""gR 63 A""#, "shelf id; chosen where absent"),
        key(
            "fuse-class",
            Kind::Text,
            r#""gR""#,
            "class to choose from; that of the main fuse where absent",
        ),
        key("fuse-air", celsius(-60.0, 150.0), r#""60 degC""#, "air around its fuse"),
    ],
};
