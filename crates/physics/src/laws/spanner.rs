//! Room for a spanner, and how close two cord grips may stand.
//!
//! pitch ≥ AC/2 + W/2,  AC = 1.1547 AF (sharp hexagon), W = 2.2 AF (head of an open spanner)
//!
//! Range   Bolts M5 to M20; grips by their own across-flats.
//! Source  Spanner clearances of an engineering handbook site (read); across-corners 1.108 to 1.111
//!         AF measured on read grip tables, but 1.1547 AF is the sharp hexagon and bounds them;
//!         head width from ISO 3318 (memory).
//! Caveat  A thin or crow-foot spanner, or a socket over the free end, needs less. Measure the tool
//!         that will be used.

/// Across corners over across flats of a sharp hexagon, 2/√3.
pub const SHARP_CORNERS: f64 = 1.154_700_538_379_251_7;
/// The same of chamfered cord grips, (least, most) read.
pub const GRIP_CORNERS: (f64, f64) = (1.108, 1.111);
/// Width of an open spanner's head over its across-flats (memory).
pub const OPEN_HEAD: f64 = 2.2;

/// Room around one bolt size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Nominal thread diameter.
    pub diameter_mm: f64,
    /// Across flats; the M10 row is for the old 17 mm head.
    pub across_flats_mm: f64,
    /// Least distance between two bolts turned by spanner.
    pub pitch_mm_min: f64,
    /// Centre to a wall beside, for an open spanner.
    pub wall_mm_min: f64,
    /// Outer diameter of a socket.
    pub socket_mm: f64,
}

/// Spanner room (read; called conservative by its source).
pub const ROOM: [Room; 6] = [
    room(5.0, 8.0, 20.0, 10.0, 22.0),
    room(6.0, 10.0, 24.0, 14.0, 26.0),
    room(8.0, 13.0, 30.0, 18.0, 26.0),
    room(10.0, 17.0, 37.0, 28.0, 27.0),
    room(16.0, 24.0, 50.0, 30.0, 42.0),
    room(20.0, 30.0, 60.0, 32.0, 47.0),
];

const fn room(
    diameter_mm: f64,
    across_flats_mm: f64,
    pitch_mm_min: f64,
    wall_mm_min: f64,
    socket_mm: f64,
) -> Room {
    Room { diameter_mm, across_flats_mm, pitch_mm_min, wall_mm_min, socket_mm }
}

/// Room for a thread size; a size between two rows takes the larger.
pub fn bolt_room(diameter_mm: f64) -> Option<&'static Room> {
    ROOM.iter().find(|row| diameter_mm <= row.diameter_mm)
}

/// Outside of a socket by the flats it turns: the table's own rows, straight between them; a size beyond
/// them takes the nearest row's wall.
pub fn socket_outside_mm(across_flats_mm: f64) -> f64 {
    assert!(across_flats_mm > 0.0);
    let (first, last) = (ROOM[0], ROOM[ROOM.len() - 1]);
    let wall = |row: Room| row.socket_mm - row.across_flats_mm;
    if across_flats_mm <= first.across_flats_mm {
        return across_flats_mm + wall(first);
    }
    ROOM.windows(2).find(|pair| across_flats_mm <= pair[1].across_flats_mm).map_or(
        across_flats_mm + wall(last),
        |pair| {
            let share = (across_flats_mm - pair[0].across_flats_mm)
                / (pair[1].across_flats_mm - pair[0].across_flats_mm);
            pair[0].socket_mm + share * (pair[1].socket_mm - pair[0].socket_mm)
        },
    )
}

/// Across corners of a sharp hexagon: never less than a real one.
pub fn across_corners_mm(across_flats_mm: f64) -> f64 {
    SHARP_CORNERS * across_flats_mm
}

/// What turns the grip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tool {
    /// An open spanner swung between two grips.
    OpenSpanner,
    /// A deep or slotted socket of this wall in mm around the corners.
    Socket {
        /// Wall of the socket.
        wall_mm: u32,
    },
    /// Fingers, or a crow-foot from above: the hexagons only must not touch.
    FromAbove,
}

/// Least distance between the centres of two equal grips. `play_mm` is kept between what passes.
pub fn grip_pitch_mm_min(across_flats_mm: f64, tool: Tool, play_mm: f64) -> f64 {
    assert!(across_flats_mm > 0.0 && play_mm >= 0.0);
    let corners = across_corners_mm(across_flats_mm);
    let turning = match tool {
        Tool::OpenSpanner => OPEN_HEAD * across_flats_mm,
        Tool::Socket { wall_mm } => corners + 2.0 * f64::from(wall_mm),
        Tool::FromAbove => corners,
    };
    // The tool turns around one grip and must pass the corners of its neighbour.
    corners / 2.0 + turning / 2.0 + play_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn val_corners_bound_every_read_grip() {
        // Read grip rows (AF, AC): 24/26.6, 27/30.0, 36/39.9, 41/45.5.
        for (af, ac) in [(24.0, 26.6), (27.0, 30.0), (36.0, 39.9), (41.0, 45.5)] {
            assert!(ac < across_corners_mm(af), "{af}");
            let ratio: f64 = ac / af;
            assert!((1.1075..1.1115).contains(&ratio), "{ratio}");
        }
    }

    #[test]
    fn val_spanner_room() {
        // Read: M8 needs a pitch of 30 and 18 to a wall.
        let m8 = bolt_room(8.0).unwrap();
        assert_eq!((m8.pitch_mm_min, m8.wall_mm_min), (30.0, 18.0));
        assert_eq!(bolt_room(12.0).unwrap().diameter_mm, 16.0);
        assert_eq!(bolt_room(30.0), None);
    }

    #[test]
    fn val_sockets_of_the_table() {
        // Read: 8, 10, 13, 17, 24, 30 mm across flats: 22, 26, 26, 27, 42, 47 mm outside.
        for (flats, outside) in
            [(8.0, 22.0), (10.0, 26.0), (13.0, 26.0), (17.0, 27.0), (24.0, 42.0), (30.0, 47.0)]
        {
            assert_eq!(socket_outside_mm(flats), outside);
        }
        assert!((socket_outside_mm(16.0) - 26.75).abs() < 1e-12);
        assert_eq!((socket_outside_mm(7.0), socket_outside_mm(32.0)), (21.0, 49.0));
    }

    #[test]
    fn a_socket_needs_less_than_an_open_spanner() {
        let open = grip_pitch_mm_min(41.0, Tool::OpenSpanner, 0.0);
        assert!((open - 68.8).abs() < 0.1, "{open}");
        assert!(grip_pitch_mm_min(41.0, Tool::Socket { wall_mm: 4 }, 0.0) < open);
        assert!(grip_pitch_mm_min(41.0, Tool::FromAbove, 0.0) < 48.0);
    }
}
