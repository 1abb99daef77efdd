//! Everything a section can say moves the temperature, and the right way.

use crate::checks::marked::{BASE, merge, planned};

/// Hottest conductor in the middle one of three sections, steady, with more lines in that section and the run.
fn middle_c(run: &str, section: &str) -> f64 {
    let aside = "[[run.phases.section]]\nlength = \"300 mm\"\nair = \"40 degC\"\n";
    let text = merge(BASE, &format!("[run.phases]\nconductor = \"2/0 AWG\"\n{run}"))
        + &format!(
            "\n{aside}[[run.phases.section]]\nlength = \"700 mm\"\nair = \"40 degC\"\n{section}\n{aside}"
        );
    let plan = planned(&text);
    let heat = plan.sizes[0].heat.as_ref().unwrap();
    let found = heat.profile.as_ref().unwrap().sections.iter().find(|s| s.given == Some(1));
    found.unwrap().steady_c
}

#[test]
fn how_cables_lie_in_a_section_counts() {
    let [flat, spaced, trefoil, vertical] = ["flat", "spaced", "trefoil", "vertical"]
        .map(|lie| middle_c("frequency = \"10 Hz\"", &format!("lie = \"{lie}\"")));
    // IEC 60287 in air gives three spaced most, then touching in a row, then trefoil (values without skin effect).
    assert!(spaced + 2.0 < flat && flat < trefoil, "{spaced} {flat} {trefoil}");
    assert!(spaced < vertical && vertical < flat, "{spaced} {vertical} {flat}");
}

#[test]
fn what_cables_lie_in_counts() {
    let open = middle_c("", "lie = \"trefoil\"");
    let tube = "lie = \"trefoil\"\ntube-inside = \"60 mm\"\ntube-outside = \"66 mm\"";
    let [conduit, metal, jacket] = ["conduit", "metal-conduit", "jacket"]
        .map(|inside| middle_c("", &format!("{tube}\nin = \"{inside}\"")));
    assert!(open + 2.0 < conduit, "{open} {conduit}");
    assert!((metal - conduit).abs() > 0.05 && open + 2.0 < metal, "{metal} {conduit}");
    // A jacket fills the air between the cables, so it is cooler than a tube of air of the same size.
    assert!(jacket < conduit, "{jacket} {conduit}");
    let wide = tube.replace("60 mm", "90 mm").replace("66 mm", "96 mm");
    let wide = middle_c("", &format!("{wide}\nin = \"conduit\""));
    assert!(wide + 1.0 < conduit, "{wide} {conduit}");
    let thick = tube.replace("66 mm", "80 mm");
    let thick = middle_c("", &format!("{thick}\nin = \"conduit\""));
    assert!(thick < conduit, "more surface outside: {thick} {conduit}");
}

#[test]
fn a_panel_warms_what_is_clipped_to_it() {
    let panel =
        |c: f64| middle_c("", &format!("in = \"on-panel\"\npanel-temperature = \"{c} degC\""));
    let (cool, warm, hot) = (panel(40.0), panel(70.0), panel(100.0));
    assert!(cool + 2.0 < warm && warm + 2.0 < hot, "{cool} {warm} {hot}");
    let as_air = middle_c("", "in = \"on-panel\"");
    assert!((as_air - cool).abs() < 1e-6, "as warm as the air where absent");
    let sunny = middle_c("", "in = \"on-panel\"\npanel-temperature = \"70 degC\"\nsun = true");
    assert!(warm + 2.0 < sunny, "{warm} {sunny}");
}

#[test]
fn air_and_sun_count() {
    let open = middle_c("", "");
    let [draught, wind] =
        ["1 m/s", "5 m/s"].map(|speed| middle_c("", &format!("air-speed = \"{speed}\"")));
    assert!(wind + 1.0 < draught && draught + 1.0 < open, "{wind} {draught} {open}");
    assert!(open + 2.0 < middle_c("", "sun = true"));
    // Thin air cools less; 3000 m leave about a sixth less convection, some 4 % of the current.
    let [low, high] = ["0 m", "3000 m"].map(|altitude| {
        let patch = format!(
            "[surroundings]\naltitude = \"{altitude}\"\n[run.dc]\nconductor = \"2/0 AWG\""
        );
        planned(&merge(BASE, &patch)).sizes[1].heat.as_ref().unwrap().rating_a
    });
    assert!((0.94..0.985).contains(&(high / low)), "{high} {low}");
}
