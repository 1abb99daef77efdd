//! Bodies as a binary glTF 2.0 file: header, a JSON part, one buffer. For the bench and any viewer.
//!
//! Our z is up and glTF's y is; our millimetres are its metres: the one root node turns and scales.
//!
//! Source  glTF 2.0 specification, "GLB File Format".

use std::fmt::Write as _;

use space::solid::Solid;

use crate::mesh::{Mesh, of_solid};

/// A body with its name and its look.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is.
    pub name: String,
    /// Red, green, blue, 0 to 1, linear.
    pub colour: [f64; 3],
    /// Metal, 0 to 1.
    pub metal: f64,
    /// Its triangles.
    pub mesh: Mesh,
}

/// How far a chord may leave an arc: not seen at any distance a person looks from.
pub const SAGITTA_MM: f64 = 0.02;

/// A machined part.
pub fn part_body(name: &str, solid: &Solid) -> Body {
    Body {
        name: name.to_owned(),
        colour: [0.66, 0.68, 0.70],
        metal: 0.8,
        mesh: of_solid(solid, SAGITTA_MM),
    }
}

/// A file of bodies.
pub fn glb(bodies: &[Body]) -> Vec<u8> {
    let (mut data, mut parts) = (Vec::new(), Parts::default());
    for body in bodies.iter().filter(|b| !b.mesh.triangles.is_empty()) {
        parts.add(body, &mut data);
    }
    let mut json = parts.json(data.len());
    while !json.len().is_multiple_of(4) {
        json.push(' ');
    }
    let word = |n: usize| u32::try_from(n).expect("under four gigabytes").to_le_bytes();
    let mut file = Vec::with_capacity(data.len() + json.len() + 28);
    let bin = if data.is_empty() { 0 } else { 8 + data.len() };
    file.extend_from_slice(b"glTF");
    file.extend(word(2));
    file.extend(word(12 + 8 + json.len() + bin));
    file.extend(word(json.len()));
    file.extend_from_slice(b"JSON");
    file.extend_from_slice(json.as_bytes());
    if !data.is_empty() {
        file.extend(word(data.len()));
        file.extend_from_slice(b"BIN\0");
        file.extend_from_slice(&data);
    }
    file
}

/// The lists of the JSON part under way.
#[derive(Default)]
struct Parts {
    views: Vec<String>,
    accessors: Vec<String>,
    materials: Vec<String>,
    meshes: Vec<String>,
    nodes: Vec<String>,
}

impl Parts {
    fn add(&mut self, body: &Body, data: &mut Vec<u8>) {
        let mesh = &body.mesh;
        let single = |v: &[f64; 3]| v.map(|x| x as f32);
        let positions: Vec<[f32; 3]> = mesh.positions.iter().map(single).collect();
        let normals: Vec<[f32; 3]> = mesh.normals.iter().map(single).collect();
        let first = self.accessors.len();
        for (list, bounded) in [(&positions, true), (&normals, false)] {
            let bytes: Vec<u8> = list.iter().flatten().flat_map(|v| v.to_le_bytes()).collect();
            let view = self.view(data, &bytes, 34962);
            let bounds = if bounded { bounds(list) } else { String::new() };
            self.accessors.push(format!(
                "{{\"bufferView\":{view},\"componentType\":5126,\"count\":{},\"type\":\"VEC3\"{bounds}}}",
                list.len()
            ));
        }
        let bytes: Vec<u8> =
            mesh.triangles.iter().flatten().flat_map(|i| i.to_le_bytes()).collect();
        let view = self.view(data, &bytes, 34963);
        self.accessors.push(format!(
            "{{\"bufferView\":{view},\"componentType\":5125,\"count\":{},\"type\":\"SCALAR\"}}",
            3 * mesh.triangles.len()
        ));
        let [r, g, b] = body.colour;
        self.materials.push(format!(
            "{{\"pbrMetallicRoughness\":{{\"baseColorFactor\":[{r},{g},{b},1],\"metallicFactor\":{},\
             \"roughnessFactor\":0.5}}}}",
            body.metal
        ));
        let (name, index) = (string(&body.name), self.meshes.len());
        self.meshes.push(format!(
            "{{\"name\":{name},\"primitives\":[{{\"attributes\":{{\"POSITION\":{first},\"NORMAL\":{}}},\
             \"indices\":{},\"material\":{index}}}]}}",
            first + 1,
            first + 2
        ));
        self.nodes.push(format!("{{\"name\":{name},\"mesh\":{index}}}"));
    }

    fn view(&mut self, data: &mut Vec<u8>, bytes: &[u8], target: u32) -> usize {
        // Four-byte numbers all, so every view starts on a multiple of four.
        self.views.push(format!(
            "{{\"buffer\":0,\"byteOffset\":{},\"byteLength\":{},\"target\":{target}}}",
            data.len(),
            bytes.len()
        ));
        data.extend_from_slice(bytes);
        self.views.len() - 1
    }

    fn json(&self, length: usize) -> String {
        let root = self.nodes.len();
        let children: Vec<String> = (0..root).map(|i| i.to_string()).collect();
        let mut nodes = self.nodes.clone();
        // A quarter turn about x brings z up to y.
        nodes.push(format!(
            "{{\"name\":\"mm, z up\",\"rotation\":[-0.70710678,0,0,0.70710678],\
             \"scale\":[0.001,0.001,0.001]{}}}",
            if children.is_empty() {
                String::new()
            } else {
                format!(",\"children\":[{}]", children.join(","))
            }
        ));
        let mut json = format!(
            "{{\"asset\":{{\"version\":\"2.0\",\"generator\":\"loomwright\"}},\"scene\":0,\
             \"scenes\":[{{\"nodes\":[{root}]}}],\"nodes\":[{}]",
            nodes.join(",")
        );
        for (name, list) in [
            ("meshes", &self.meshes),
            ("materials", &self.materials),
            ("accessors", &self.accessors),
            ("bufferViews", &self.views),
        ] {
            if !list.is_empty() {
                let _ = write!(json, ",\"{name}\":[{}]", list.join(","));
            }
        }
        if length > 0 {
            let _ = write!(json, ",\"buffers\":[{{\"byteLength\":{length}}}]");
        }
        json.push('}');
        json
    }
}

fn bounds(list: &[[f32; 3]]) -> String {
    let reach = |fold: fn(f32, f32) -> f32, start: f32| {
        let each = [0, 1, 2].map(|i| list.iter().fold(start, |a, p| fold(a, p[i])).to_string());
        each.join(",")
    };
    format!(
        ",\"min\":[{}],\"max\":[{}]",
        reach(f32::min, f32::INFINITY),
        reach(f32::max, f32::NEG_INFINITY)
    )
}

fn string(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => {
                out.push('\\');
                out.push(c);
            }
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::revolved;

    #[test]
    fn the_parts_of_the_file_add_up() {
        let body = Body {
            name: "a \"ring\"".to_owned(),
            colour: [0.5, 0.5, 0.5],
            metal: 1.0,
            mesh: revolved(&[(0.0, 2.0), (10.0, 2.0), (10.0, 5.0), (0.0, 5.0)]),
        };
        let file = glb(&[body.clone(), body]);
        let word =
            |at: usize| u32::from_le_bytes(file[at..at + 4].try_into().unwrap()) as usize;
        assert_eq!(&file[..4], b"glTF");
        assert_eq!((word(4), word(8)), (2, file.len()));
        let json = word(12);
        assert_eq!(&file[16..20], b"JSON");
        assert!(json.is_multiple_of(4));
        assert_eq!(&file[24 + json..28 + json], b"BIN\0");
        let bin = word(20 + json);
        assert_eq!(28 + json + bin, file.len());
        let text = std::str::from_utf8(&file[20..20 + json]).unwrap();
        assert!(text.contains(&format!("\"buffers\":[{{\"byteLength\":{bin}}}]")), "{text}");
        assert_eq!(text.matches("\"POSITION\"").count(), 2);
    }

    #[test]
    fn nothing_is_a_file_too() {
        let file = glb(&[]);
        assert!(!file.is_empty());
        assert!(!String::from_utf8_lossy(&file).contains("buffers"));
    }
}
