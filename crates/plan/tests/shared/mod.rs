//! The files that the orchard truck's document names, for tests that have no disk.

use plan::given::build::Build;
use plan::given::document::DocumentError;
use plan::given::face::attach;

/// Its faces, by the names the document gives them.
pub(crate) const FACES: [(&str, &str); 3] = [
    (
        "motor-phases-face.toml",
        include_str!("../../../../builds/orchard-truck/motor-phases-face.toml"),
    ),
    (
        "inverter-phases-face.toml",
        include_str!("../../../../builds/orchard-truck/inverter-phases-face.toml"),
    ),
    (
        "inverter-dc-face.toml",
        include_str!("../../../../builds/orchard-truck/inverter-dc-face.toml"),
    ),
];

/// Puts faces into a build that may name them; what is wrong with them.
pub(crate) fn attach_faces(build: &mut Build, faces: &[(&str, &str)]) -> Vec<DocumentError> {
    faces.iter().flat_map(|(name, text)| attach(build, name, text)).collect()
}
