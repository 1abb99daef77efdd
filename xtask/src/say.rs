//! The one place that prints.

use std::time::Duration;

/// A line of result.
#[expect(clippy::print_stdout, reason = "the one place that prints results")]
pub(crate) fn line(text: &str) {
    println!("{text}");
}

/// A line that tells why something did not work.
#[expect(clippy::print_stderr, reason = "the one place that prints problems")]
pub(crate) fn problem(text: &str) {
    eprintln!("xtask: {text}");
}

/// How long something took, in the unit a person would use.
pub(crate) fn took(time: Duration) -> String {
    let seconds = time.as_secs_f64();
    if seconds < 1.0 {
        format!("{:.0} ms", seconds * 1000.0)
    } else if seconds < 120.0 {
        format!("{seconds:.1} s")
    } else {
        format!("{:.0} min {:02.0} s", (seconds / 60.0).floor(), (seconds % 60.0).floor())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_told_in_its_own_unit() {
        assert_eq!(took(Duration::from_millis(48)), "48 ms");
        assert_eq!(took(Duration::from_millis(2_340)), "2.3 s");
        assert_eq!(took(Duration::from_secs(245)), "4 min 05 s");
    }
}
