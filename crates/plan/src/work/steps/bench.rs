//! Steps at one end on the bench: the screen, the crimp, the bend.

use super::{Action, BENCH, CAUTION_BLADE, CAUTION_HANDS, Step, Work, step};
use crate::design::ends::{End, ScreenEnd, Tongue};
use crate::finding::About;
use crate::given::build::Screen;
use crate::given::shelf::Lug;
use crate::work::keys;
use physics::units::{Dimension, show_both};

impl Work<'_> {
    /// Sheath off, and the screen to where it ends.
    pub(super) fn screen(
        &self,
        name: &str,
        screen: &ScreenEnd,
        at: &str,
        about: &About,
        after: Vec<String>,
    ) -> Step {
        let mm = |mm: f64| show_both(mm, Dimension::Length, self.parts.units);
        let mut text = vec![screen.sheath_mm.map_or_else(
            || {
                "Take the sheath off as far as the box needs; the length is not known yet."
                    .to_owned()
            },
            |off| format!("Take {} of sheath off the end; cut no wire of the screen.", mm(off)),
        )];
        text.push(match screen.how {
            Some(Screen::GripContact) => format!(
                "Cut the screen to {} beyond the sheath and fold it back, so that it lies in the grip's contact all \
                 round.",
                mm(screen.screen_mm)
            ),
            Some(Screen::Pigtail) => format!(
                "Comb the screen out, gather it to a pigtail of {} at most, and crimp its small lug.",
                mm(screen.screen_mm)
            ),
            Some(Screen::None) | None => "Cut the screen and its foil off flush with the sheath.".to_owned(),
        });
        if screen.cover.is_some() {
            text.push(
                "Shrink the cover sleeve half on the sheath, half on the core.".to_owned(),
            );
        }
        text.push(
            "No loose wire of the screen may be left: one of them bridges to the lug."
                .to_owned(),
        );
        let mut parts: Vec<(String, u32)> =
            screen.bolt.iter().map(|thread| (keys::pigtail(thread), 1)).collect();
        parts.extend(screen.cover.iter().map(|fit| (keys::sleeve(fit), 1)));
        let mut tools = vec!["sheath knife with a stop".to_owned()];
        if screen.bolt.is_some() {
            tools.push("crimper for the pigtail's lug".to_owned());
        }
        if screen.cover.is_some() {
            tools.push("hot-air gun".to_owned());
        }
        Step {
            text,
            parts,
            tools,
            after,
            why: Some(
                "the screen is dressed while core and lug are still out of the way".to_owned(),
            ),
            caution: Some(CAUTION_BLADE.to_owned()),
            about: about.clone(),
            ..step(
                &format!("{name}-screen"),
                &format!("Dress the screen of {at}"),
                Action::Strip,
                BENCH,
            )
        }
    }

    /// The palm over a rounded edge, where the bolt's tool leaves room.
    pub(super) fn bend(
        &self,
        name: &str,
        bend: Option<&Tongue>,
        at: &str,
        about: &About,
    ) -> Step {
        let mm = |mm: f64| show_both(mm, Dimension::Length, self.parts.units);
        let mut text = vec![match bend {
            Some(bend) => format!(
                "Bend the palm 90 degrees in a padded vice, over an edge rounded to {} or more, once; the bend begins {} \
                 from the hole's centre.",
                mm(bend.radius_mm),
                mm(bend.from_hole_mm)
            ),
            None => "Bend the palm 90 degrees in a padded vice, over a rounded edge, once."
                .to_owned(),
        }];
        text.push(
            "Bend it to the side the terminal lies on; offer it up before you bend.".to_owned(),
        );
        text.push("Look at the outside with a lens: a crack means a new lug.".to_owned());
        Step {
            text,
            tools: vec!["vice with rounded jaws".to_owned()],
            after: vec![format!("{name}-crimp")],
            why: Some("bent back and forth, the tongue cracks".to_owned()),
            about: about.clone(),
            ..step(
                &format!("{name}-bend"),
                &format!("Bend the palm of {at}"),
                Action::Bend,
                BENCH,
            )
        }
    }
}

/// The lug on its conductor.
pub(super) fn crimp(name: &str, end: &End, lug: &Lug, at: &str, about: &About) -> Step {
    let (tool, presses) = match &end.crimp {
        Some(crimp) => (
            format!("{} crimper, die {}", crimp.form, crimp.die),
            match crimp.presses {
                1 => "Press once, in the middle of the barrel.".to_owned(),
                presses => format!("Press {presses} times, from the palm towards the cable."),
            },
        ),
        None => (
            "crimper with the die of the lug's maker".to_owned(),
            "Press as the lug's maker states.".to_owned(),
        ),
    };
    Step {
        text: vec![
            "Push the conductor to the bottom of the barrel; every strand inside.".to_owned(),
            presses,
            "The die's number is a code, not a size: it must be the one for this lug."
                .to_owned(),
        ],
        parts: vec![(keys::lug(lug), 1)],
        tools: vec![tool],
        after: vec![format!("{name}-strip")],
        why: end
            .grip
            .as_ref()
            .map(|_| "grip and sleeve are already on the cable: look again".to_owned()),
        caution: Some(CAUTION_HANDS.to_owned()),
        about: about.clone(),
        ..step(
            &format!("{name}-crimp"),
            &format!("Crimp the lug on {at}"),
            Action::Crimp,
            BENCH,
        )
    }
}
