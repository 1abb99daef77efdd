//! The example builds, as they lie in the project.

use crate::disk;

/// A file of a build and what stands in it.
type Part = (&'static str, &'static str);

macro_rules! part {
    ($build:literal, $name:literal) => {
        ($name, include_str!(concat!("../../../builds/", $build, "/", $name)))
    };
}

/// A complete build.
pub(crate) struct Example {
    /// Its name.
    pub(crate) name: &'static str,
    /// Its files, the document first.
    pub(crate) files: &'static [Part],
}

/// All of them, the smallest first.
pub(crate) const ALL: &[Example] = &[
    Example { name: "first", files: &[part!("first", "build.toml")] },
    Example { name: "hill-wagon", files: &[part!("hill-wagon", "build.toml")] },
    Example {
        name: "orchard-truck",
        files: &[
            part!("orchard-truck", "build.toml"),
            part!("orchard-truck", "parts.toml"),
            part!("orchard-truck", "motor-phases-face.toml"),
            part!("orchard-truck", "inverter-phases-face.toml"),
            part!("orchard-truck", "inverter-dc-face.toml"),
        ],
    },
];

impl Example {
    /// Its title and the remark it opens with.
    pub(crate) fn told(&self) -> (String, String) {
        let text = self.files.iter().find(|f| f.0 == disk::DOCUMENT).map_or("", |f| f.1);
        let title = text
            .lines()
            .find_map(|line| line.strip_prefix("title = "))
            .map_or(self.name, |title| title.trim().trim_matches('"'));
        let remark: Vec<&str> = text
            .lines()
            .take_while(|line| line.starts_with('#'))
            .map(|line| line.trim_start_matches('#').trim())
            .collect();
        (title.to_owned(), remark.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_says_what_it_is() {
        for example in ALL {
            let (title, what) = example.told();
            assert!(!title.is_empty() && what.len() > 20, "{}: {title} {what}", example.name);
        }
    }
}
