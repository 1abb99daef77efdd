//! The regulatory speed tables that ship with the program.
//!
//! UN GTR No. 15 Annex 1 (WLTC), UN R83 and R101 (NEDC), 40 CFR Part 86 Appendix I (UDDS, FTP-75, US06) and 40 CFR
//! Part 600 Appendix I (HWFET): public law, one row a second. `cycles/SOURCES.md` says where each was read.

use physics::duty::vehicle::Moment;

/// A speed table that ships with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cycle {
    /// WLTC class 3b.
    Wltc3b,
    /// WLTC class 3a: slower than 120 km/h.
    Wltc3a,
    /// WLTC class 2.
    Wltc2,
    /// Urban Dynamometer Driving Schedule.
    Udds,
    /// UDDS with its first 505 s again.
    Ftp75,
    /// Highway Fuel Economy Test.
    Hwfet,
    /// US06.
    Us06,
    /// New European Driving Cycle.
    Nedc,
}

/// One name for all of them, as a document writes it.
pub const CYCLES: &[(&str, Cycle)] = &[
    ("wltc-3b", Cycle::Wltc3b),
    ("wltc-3a", Cycle::Wltc3a),
    ("wltc-2", Cycle::Wltc2),
    ("udds", Cycle::Udds),
    ("ftp75", Cycle::Ftp75),
    ("hwfet", Cycle::Hwfet),
    ("us06", Cycle::Us06),
    ("nedc", Cycle::Nedc),
];

const MPH_M_S: f64 = 0.44704;

impl Cycle {
    /// The cycle of that name.
    pub fn parse(name: &str) -> Option<Cycle> {
        CYCLES.iter().find(|(n, _)| *n == name).map(|(_, cycle)| *cycle)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        CYCLES[self as usize].0
    }

    fn text(self) -> &'static str {
        match self {
            Cycle::Wltc3b => include_str!("../../../../cycles/wltc-3b.csv"),
            Cycle::Wltc3a => include_str!("../../../../cycles/wltc-3a.csv"),
            Cycle::Wltc2 => include_str!("../../../../cycles/wltc-2.csv"),
            Cycle::Udds => include_str!("../../../../cycles/udds.csv"),
            Cycle::Ftp75 => include_str!("../../../../cycles/ftp75.csv"),
            Cycle::Hwfet => include_str!("../../../../cycles/hwfet.csv"),
            Cycle::Us06 => include_str!("../../../../cycles/us06.csv"),
            Cycle::Nedc => include_str!("../../../../cycles/nedc.csv"),
        }
    }

    /// Its rows.
    pub fn table(self) -> Vec<Moment> {
        let mut lines = self.text().lines();
        let head = lines.next().expect("a table has a head");
        let unit_m_s = if head.ends_with("_mph") { MPH_M_S } else { 1.0 / 3.6 };
        lines
            .map(|line| {
                let number =
                    |text: &str| text.parse::<f64>().expect("our own tables hold numbers");
                let (time, speed) =
                    line.split_once(',').expect("our own tables have two columns");
                Moment { time_s: number(time), speed_m_s: unit_m_s * number(speed), grade: 0.0 }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Seconds, distance in m, greatest speed in km/h: as published, each with how finely.
    #[test]
    fn val_published_facts() {
        for (cycle, seconds, metres, within_m, top_kmh) in [
            // Joint Research Centre's reference run: 23 266.3 m.
            (Cycle::Wltc3b, 1800.0, 23_266.3, 0.06, 131.3),
            // EPA: 1369 s, 7.45 miles, 56.7 mph.
            (Cycle::Udds, 1369.0, 7.45 * 1609.344, 8.1, 91.25),
            // 1874 s, 11.04 miles.
            (Cycle::Ftp75, 1874.0, 11.04 * 1609.344, 8.1, 91.25),
            // EPA: 765 s, 10.26 miles, 59.9 mph.
            (Cycle::Hwfet, 765.0, 10.26 * 1609.344, 8.1, 96.40),
            // 600 s, 8.01 miles, 80.3 mph.
            (Cycle::Us06, 600.0, 8.01 * 1609.344, 8.1, 129.23),
            // 4 x 1.013 + 6.955 = 11.007 km in 1180 s; the table's last second stands still and is left out.
            (Cycle::Nedc, 1179.0, 11_007.0, 8.0, 120.0),
        ] {
            let table = cycle.table();
            assert_eq!(table.last().unwrap().time_s, seconds, "{}", cycle.name());
            let distance: f64 =
                table.windows(2).map(|w| 0.5 * (w[0].speed_m_s + w[1].speed_m_s)).sum();
            assert!((distance - metres).abs() < within_m, "{}: {distance}", cycle.name());
            let top = table.iter().map(|m| 3.6 * m.speed_m_s).fold(0.0, f64::max);
            assert!((top - top_kmh).abs() < 0.01, "{}: {top}", cycle.name());
        }
    }

    /// UN GTR No. 15 Annex 1, table A1/13: sums of the speeds in km/h.
    #[test]
    fn val_published_checksums() {
        let sum = |cycle: Cycle, from: usize, to: usize| -> f64 {
            cycle.table()[from..=to].iter().map(|m| 3.6 * m.speed_m_s).sum()
        };
        for (from, to, published) in [
            (0, 589, 11_140.3),
            (590, 1022, 17_121.2),
            (1023, 1477, 25_782.2),
            (1478, 1800, 29_714.9),
            (0, 1800, 83_758.6),
        ] {
            assert!((sum(Cycle::Wltc3b, from, to) - published).abs() < 1e-6);
        }
        assert!((sum(Cycle::Wltc3a, 0, 1800) - 83_496.9).abs() < 1e-6);
        assert!((sum(Cycle::Wltc2, 0, 1800) - 81_536.9).abs() < 1e-6);
    }

    #[test]
    fn every_table_reads_and_every_name_leads_back() {
        for (name, cycle) in CYCLES {
            assert_eq!(Cycle::parse(name).unwrap().name(), *name);
            let table = cycle.table();
            assert!(table.windows(2).all(|w| w[1].time_s == w[0].time_s + 1.0));
            assert!(table.iter().all(|m| (0.0..40.0).contains(&m.speed_m_s)));
        }
    }
}
