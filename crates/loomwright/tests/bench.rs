//! The bench as its pages use it, and as nobody should.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;
#[path = "common/http.rs"]
mod http;

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use common::{command, folder, root};
use http::Bench;
use serde_json::{Value, json};

/// A folder with copies of examples.
fn builds(name: &str, examples: &[&str]) -> PathBuf {
    let all = folder(name);
    for example in examples {
        let to = all.join(example);
        fs::create_dir_all(&to).unwrap();
        for entry in fs::read_dir(root().join("builds").join(example)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "toml") {
                fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
            }
        }
    }
    all
}

fn text_of(folder: &Path, id: &str) -> String {
    fs::read_to_string(folder.join(id).join("build.toml")).unwrap()
}

fn finding<'v>(planned: &'v Value, code: &str) -> Option<&'v Value> {
    planned["findings"].as_array().unwrap().iter().find(|f| f["code"] == code)
}

#[test]
fn a_folder_shows_its_builds_and_makes_new_ones() {
    let all = builds("bench-folder", &["first", "hill-wagon"]);
    let bench = Bench::start(&all);
    let listed = bench.read("/api/builds");
    let ids: Vec<&str> = listed["builds"]
        .as_array()
        .unwrap()
        .iter()
        .map(|b| b["id"].as_str().unwrap())
        .collect();
    assert_eq!(ids, ["first", "hill-wagon"]);
    assert_eq!(listed["examples"].as_array().unwrap().len(), 3);
    let picture = bench.get("/api/builds/first/picture.svg");
    assert!(picture.body.starts_with(b"<svg"), "{}", picture.head);

    let made =
        bench.change("/api/builds", &json!({ "name": "truck", "example": "orchard-truck" }));
    assert_eq!(made["id"], "truck");
    let desk = bench.read("/api/builds/truck");
    assert!(desk["files"].as_array().unwrap().len() >= 3, "document, shop, faces");
    let questions = bench.read("/api/questions");
    let mut answers = serde_json::Map::new();
    for question in questions.as_array().unwrap() {
        answers
            .insert(question["id"].as_str().unwrap().to_owned(), question["example"].clone());
    }
    bench.change("/api/builds", &json!({ "name": "asked", "answers": answers }));
    assert!(text_of(&all, "asked").contains("length = \"1.42 m\""));
    for bad in ["", "..", "a/b", "first", "here", "a b", "x\u{0}"] {
        let refused = bench.post("/api/builds", &json!({ "name": bad }));
        assert!([400, 409].contains(&refused.status), "{bad:?}: {}", refused.status);
    }
    assert_eq!(fs::read_dir(&all).unwrap().count(), 4);
}

#[test]
fn an_edit_keeps_comments_and_order_and_can_be_taken_back() {
    let all = builds("bench-edit", &["orchard-truck"]);
    let before = text_of(&all, "orchard-truck");
    let bench = Bench::start(&all);
    let mut events = bench.events();
    let old = bench.read("/api/builds/orchard-truck/planned");
    let changed = bench.set("orchard-truck", &["run", "phases", "from-end", "bolt"], "M8x40");
    let after = text_of(&all, "orchard-truck");
    assert_eq!(after, before.replacen("bolt = \"M8x12\"", "bolt = \"M8x40\"", 1));

    let planned = bench.event("planned", &mut events, |p| p["version"] == changed["version"]);
    let bottoms = finding(&planned, "bolt-bottoms").unwrap();
    assert_eq!(bottoms["verdict"], "fails", "{bottoms}");
    assert_eq!(bottoms["change"], "worse");
    assert_ne!(finding(&old, "bolt-bottoms").unwrap()["verdict"], "fails");
    let line = before.lines().position(|l| l.contains("bolt = \"M8x12\"")).unwrap() + 1;
    assert_eq!(bottoms["at"]["line"], line, "{bottoms}");
    let strips = bench.read("/api/builds/orchard-truck/strips");
    let shapes = strips["strips"][0]["shapes"].as_array().unwrap();
    let bolt = shapes.iter().find(|s| s["id"] == "from/U/bolt").unwrap();
    assert!(bolt["findings"].as_array().unwrap().contains(&bottoms["id"]), "{bolt}");

    // Typing and dragging share one history.
    let desk = bench.read("/api/builds/orchard-truck");
    let typed = after.replace("title = \"Orchard truck\"", "title = \"Another\"");
    let text = json!({ "base": desk["version"], "text": typed });
    bench.change("/api/builds/orchard-truck/text", &text);
    assert_eq!(bench.post("/api/builds/orchard-truck/text", &text).status, 409, "an old base");
    bench.change("/api/builds/orchard-truck/undo", &json!({}));
    assert_eq!(text_of(&all, "orchard-truck"), after);
    bench.change("/api/builds/orchard-truck/undo", &json!({}));
    assert_eq!(text_of(&all, "orchard-truck"), before);
    assert_eq!(bench.post("/api/builds/orchard-truck/undo", &json!({})).status, 409);
    bench.change("/api/builds/orchard-truck/redo", &json!({}));
    bench.change("/api/builds/orchard-truck/redo", &json!({}));
    assert_eq!(text_of(&all, "orchard-truck"), typed);
}

#[test]
fn a_broken_document_is_kept_and_what_was_known_stays_shown() {
    let all = builds("bench-broken", &["first"]);
    let bench = Bench::start(&all);
    let good = bench.read("/api/builds/first/planned");
    let broken = text_of(&all, "first").replace("length = \"0.85 m\"", "length = 0.85");
    bench.change("/api/builds/first/text", &json!({ "base": 1, "text": broken }));
    assert_eq!(text_of(&all, "first"), broken);
    let planned = bench.read("/api/builds/first/planned");
    assert_eq!(planned["stale"], true);
    assert_eq!(planned["for_building"], false);
    assert_eq!(
        planned["findings"].as_array().unwrap().len(),
        good["findings"].as_array().unwrap().len()
    );
    let error = &planned["errors"][0];
    assert!(error["message"].as_str().unwrap().contains("unit"), "{error}");
    assert!(error["at"]["line"].as_u64().unwrap() > 30);
    let refused = bench.post(
        "/api/builds/first/set",
        &json!({ "edits": [{ "path": ["title", "x"], "value": "y" }] }),
    );
    assert_eq!(refused.status, 400);
    bench.change("/api/builds/first/undo", &json!({}));
    assert_eq!(bench.read("/api/builds/first/planned")["stale"], false);
}

#[test]
fn what_was_acknowledged_survives_a_kill() {
    let all = builds("bench-kill", &["first"]);
    let bench = Bench::start(&all);
    let mut last = String::new();
    for i in 0..40 {
        last = format!("{}.{i} A", 100 + i);
        bench.set("first", &["run", "phases", "current"], &last);
    }
    bench.kill();
    assert!(text_of(&all, "first").contains(&format!("current = \"{last}\"")));
    let left: Vec<_> =
        fs::read_dir(all.join("first")).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(left.len(), 1, "no half files: {left:?}");
    let again = Bench::start(&all);
    let desk = again.read("/api/builds/first");
    assert!(desk["files"][0]["text"].as_str().unwrap().contains(&last));
}

#[test]
fn a_change_made_outside_is_taken_in_and_told_and_can_be_taken_back() {
    let all = builds("bench-outside", &["first"]);
    let bench = Bench::start(&all);
    let mut events = bench.events();
    bench.read("/api/builds/first/planned");
    let before = text_of(&all, "first");
    let outside = before.replace("120 A", "95 A");
    fs::write(all.join("first/build.toml"), &outside).unwrap();
    let told = bench.event("outside", &mut events, |_| true);
    assert_eq!(told["files"], json!(["build.toml"]));
    let planned = bench.event("planned", &mut events, |p| p["version"] == told["version"]);
    assert_eq!(planned["stale"], false);
    assert_eq!(bench.read("/api/builds/first")["files"][0]["text"], outside);
    bench.change("/api/builds/first/undo", &json!({}));
    assert_eq!(text_of(&all, "first"), before);
}

#[test]
fn two_changes_at_once_are_asked_about_and_neither_is_lost() {
    let all = builds("bench-conflict", &["first"]);
    let bench = Bench::start(&all);
    bench.read("/api/builds/first/planned");
    let before = text_of(&all, "first");
    let theirs = before.replace("First build", "Theirs");
    let ours = before.replace("First build", "Ours");
    // Until the bench meets a file that others have just changed while it wants to write.
    let mut met = false;
    for _ in 0..40 {
        fs::write(all.join("first/build.toml"), &theirs).unwrap();
        let version = bench.read("/api/builds/first")["version"].clone();
        let answer =
            bench.post("/api/builds/first/text", &json!({ "base": version, "text": ours }));
        if answer.status == 409 && !bench.read("/api/builds/first")["conflict"].is_null() {
            met = true;
            break;
        }
        fs::write(all.join("first/build.toml"), &before).unwrap();
        std::thread::sleep(Duration::from_millis(500));
    }
    assert!(met, "the two changes never met");
    assert_eq!(text_of(&all, "first"), theirs, "nothing is written while nobody has chosen");
    let desk = bench.read("/api/builds/first");
    assert_eq!(desk["files"][0]["text"], ours);
    assert_eq!(desk["conflict"]["theirs"][0]["text"], theirs);
    bench.change("/api/builds/first/conflict", &json!({ "keep": "ours" }));
    assert_eq!(text_of(&all, "first"), ours);
    bench.change("/api/builds/first/undo", &json!({}));
    assert_eq!(text_of(&all, "first"), theirs, "the other text is one step back");
}

#[test]
fn what_if_saves_nothing_and_later_questions_overtake() {
    let all = builds("bench-what-if", &["first"]);
    let bench = Bench::start(&all);
    let before = text_of(&all, "first");
    let asked = |turn: u64| {
        json!({ "edits": [{ "path": ["run", "phases", "current"], "value": 400, "unit": "A" }],
                "asker": "a tab", "turn": turn })
    };
    let answer = bench.change("/api/builds/first/what-if", &asked(5));
    assert_eq!(text_of(&all, "first"), before);
    assert!(
        answer["plan"]["runs"][0]["heat"]["current_a_rms"] == 400.0,
        "{}",
        answer["plan"]["runs"][0]
    );
    assert!(!answer["strips"]["strips"].as_array().unwrap().is_empty());
    assert_eq!(bench.post("/api/builds/first/what-if", &asked(4)).status, 409);
    assert_eq!(bench.read("/api/builds/first")["version"], 1);
    for knob in bench.read("/api/builds/first/knobs")["knobs"].as_array().unwrap() {
        assert!(knob["least"].as_f64() < knob["most"].as_f64(), "{knob}");
    }
}

#[test]
fn a_drag_is_planned_newest_first_and_undone_in_one_step() {
    let all = builds("bench-drag", &["first"]);
    let bench = Bench::start(&all);
    let mut events = bench.events();
    let before = text_of(&all, "first");
    bench.read("/api/builds/first/planned");
    let mut version = 0;
    for i in 0..60 {
        let set = json!({ "edits": [{ "path": ["run", "phases", "current"], "value": 100 + i, "unit": "A" }],
                          "gather": "drag" });
        version = bench.change("/api/builds/first/set", &set)["version"].as_u64().unwrap();
    }
    bench.event("planned", &mut events, |p| p["version"] == version);
    assert!(text_of(&all, "first").contains("159 A"));
    bench.change("/api/builds/first/undo", &json!({}));
    assert_eq!(text_of(&all, "first"), before);
}

#[test]
fn sheets_and_files_come_out() {
    let all = builds("bench-sheets", &["orchard-truck"]);
    let bench = Bench::start(&all);
    let at = |rest: &str| format!("/api/builds/orchard-truck/{rest}");
    let plates = bench.read(&at("plates"));
    let plate =
        &plates["plates"].as_array().unwrap().iter().find(|p| p["absent"].is_null()).unwrap();
    for file in plate["files"].as_array().unwrap() {
        let answer = bench.get(file["url"].as_str().unwrap());
        assert_eq!(answer.status, 200, "{file}");
        assert!(answer.body.len() > 100, "{file}");
    }
    let end = bench.get(&at("ends/phases/U/from.glb"));
    assert!(end.body.starts_with(b"glTF"));
    for name in ["kit.csv", "kit.xlsx", "labels.svg"] {
        assert_eq!(bench.get(&at(&format!("files/{name}"))).status, 200, "{name}");
    }
    assert_eq!(bench.get(&at("files/build.toml")).status, 404);
    let face = &bench.read(&at("faces"))["faces"][0];
    assert_eq!(
        face["readings"].as_array().unwrap().len(),
        face["face"]["readings"].as_array().unwrap().len()
    );
    let png = b"\x89PNG\r\n\x1a\nrest";
    let photo = at("photos/photo-motor-phases.png");
    let kept = bench.ask("POST", &photo, &[("Content-Type", "image/png")], png);
    assert_eq!(kept.status, 200);
    assert_eq!(bench.get(&photo).body, png);
    let script =
        bench.ask("POST", &at("photos/a.png"), &[("Content-Type", "image/png")], b"<script>");
    assert_eq!(script.status, 415);
    let schema =
        json!({ "kind": "lug", "fields": { "id": "ours", "nonsense": 1 }, "only_check": true });
    let judged = bench.change(&at("shop"), &schema);
    assert!(
        judged["added"] == false && !judged["errors"].as_array().unwrap().is_empty(),
        "{judged}"
    );
    let priced = json!({ "kind": "lug", "fields": { "id": "2/0 M8", "price": 4.5 } });
    assert_eq!(bench.change(&at("shop"), &priced)["added"], true);
    assert!(fs::read_to_string(all.join("orchard-truck/parts.toml")).unwrap().contains("4.5"));
}

#[test]
fn figures_answer_and_sweep() {
    let all = builds("bench-figures", &["first"]);
    let bench = Bench::start(&all);
    assert!(bench.read("/api/figures").as_array().unwrap().len() >= 40);
    let given = json!({ "thread": "M8", "torque": "9 N m", "nut-factor": "0.2" });
    let answer = bench.change("/api/figures/bolt-preload", &json!({ "given": given }));
    // F = T / (K d), the textbook relation: 9 / (0.2 x 0.008) N.
    let preload = answer["answer"]["result"]["preload"]["value"].as_f64().unwrap();
    assert!((preload - 5.625).abs() < 1e-9, "{answer}");
    let swept = bench.change(
        "/api/figures/bolt-preload/sweep",
        &json!({ "given": given, "input": "torque", "from": "1 N m", "to": "9 N m", "count": 9 }),
    );
    assert_eq!(swept["outputs"][0]["values"].as_array().unwrap().len(), 9);
    let wrong =
        bench.change("/api/figures/bolt-preload", &json!({ "given": { "thread": "M8" } }));
    assert!(wrong["answer"].is_null() && !wrong["errors"].as_array().unwrap().is_empty());
    assert_eq!(bench.post("/api/figures/none", &json!({ "given": {} })).status, 404);
    assert!(!bench.read("/api/shelf?words=lug%20M8").as_array().unwrap().is_empty());
    for path in ["/api/keys", "/api/units", "/api/shelf/kinds", "/api/book-parts"] {
        assert!(!bench.read(path).as_array().unwrap().is_empty(), "{path}");
    }
}

#[test]
fn a_book_is_set_while_work_goes_on() {
    let all = builds("bench-book", &["first"]);
    let bench = Bench::start(&all);
    let mut events = bench.events();
    let job = bench.change("/api/builds/first/book", &json!({ "parts": ["kit"] }));
    let url = job["url"].as_str().unwrap();
    bench.set("first", &["title"], "Meanwhile");
    let ready = bench.event("book", &mut events, |b| b["state"] != "setting");
    assert_eq!(ready["state"], "ready", "{ready}");
    let pdf = bench.get(url);
    assert!(pdf.body.starts_with(b"%PDF") && pdf.head.contains("application/pdf"));
    let refused = bench.post("/api/builds/first/book", &json!({ "parts": ["nonsense"] }));
    assert_eq!(refused.status, 400);
    assert_eq!(bench.get("/api/builds/first/book/99.pdf").status, 404);
}

#[test]
fn hostile_requests_are_refused_and_change_nothing() {
    let all = builds("bench-hostile", &["first"]);
    let bench = Bench::start(&all);
    let before = text_of(&all, "first");
    let set = json!({ "edits": [{ "path": ["title"], "value": "owned" }] }).to_string();
    let json_type = ("Content-Type", "application/json");
    let post = |headers: &[(&str, &str)], body: &[u8]| {
        bench.ask("POST", "/api/builds/first/set", headers, body).status
    };
    assert_eq!(post(&[("Host", "other.example"), json_type], set.as_bytes()), 403);
    assert_eq!(post(&[("Origin", "http://other.example"), json_type], set.as_bytes()), 403);
    assert_eq!(post(&[("Sec-Fetch-Site", "cross-site"), json_type], set.as_bytes()), 403);
    assert_eq!(post(&[("Content-Type", "text/plain")], set.as_bytes()), 415);
    assert_eq!(post(&[json_type], b"{ \"edits\": [ }"), 400);
    assert_eq!(post(&[json_type], b"\xff\xfe"), 400);
    assert_eq!(post(&[json_type], "[".repeat(100_000).as_bytes()), 400);
    assert_eq!(bench.get("/api/builds/first/set").status, 405);
    assert_eq!(bench.ask("DELETE", "/api/builds/first", &[], b"").status, 405);

    let huge = vec![b' '; 5 << 20];
    assert_eq!(post(&[json_type], &huge[..]), 413);
    let chunk = format!(
        "POST /api/builds/first/set HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
         Transfer-Encoding: chunked\r\nConnection: close\r\n\r\n480000\r\n{}",
        bench.port,
        " ".repeat(0x480000)
    );
    assert_eq!(bench.raw(chunk.as_bytes()).status, 413);

    for path in [
        "/../../etc/passwd",
        "/..%2f..%2fetc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/assets/../../x",
        "/api/builds/..%2f..",
        "/api/builds/%2e%2e",
        "/api/builds/first/photos/..%2fbuild.toml",
        "/api/builds/first/files/..%5cbuild.toml",
        "//etc/passwd",
    ] {
        assert!(
            [400, 404].contains(&bench.get(path).status),
            "{path}: {}",
            bench.get(path).status
        );
    }
    for path in
        ["/api/builds/none", "/api/builds/first/photos/build.toml", "/api/nonsense", "/none.js"]
    {
        assert_eq!(bench.get(path).status, 404, "{path}");
    }
    assert_eq!(text_of(&all, "first"), before);
    assert_eq!(bench.read("/api/builds/first")["version"], 1);

    let page = bench.get("/");
    assert_eq!(page.status, 200);
    let policy = page.head.to_lowercase();
    assert!(policy.contains("script-src 'self';"), "{policy}");
    assert!(
        policy.contains("nosniff") && policy.contains("frame-ancestors 'self'"),
        "{policy}"
    );
}

#[test]
fn a_thousand_connections_do_not_keep_others_out() {
    let all = builds("bench-thousand", &["first"]);
    let bench = Bench::start(&all);
    bench.read("/api/builds/first/planned");
    let mut lines = Vec::new();
    for i in 0..1000 {
        // This process may have fewer files open than that; then as many as it can.
        let Ok(mut line) = std::net::TcpStream::connect(("127.0.0.1", bench.port)) else {
            break;
        };
        if i % 3 == 0 {
            let _ = line.write_all(b"GET /api/about HTTP/1.1\r\nHo");
        }
        lines.push(line);
    }
    assert!(lines.len() >= 900, "{}", lines.len());
    let began = Instant::now();
    drop(lines.split_off(lines.len() - 20));
    assert_eq!(bench.read("/api/builds/first/planned")["version"], 1);
    bench.set("first", &["title"], "Still here");
    assert!(began.elapsed() < Duration::from_secs(5), "{:?}", began.elapsed());
    drop(lines);
    assert!(text_of(&all, "first").contains("Still here"));
}

#[test]
fn every_call_of_the_description_is_there() {
    let all = builds("bench-described", &["first"]);
    let bench = Bench::start(&all);
    let described = bench.read("/api/openapi.json");
    let kept = fs::read_to_string(root().join("docs/bench.openapi.json")).unwrap();
    assert!(
        described == serde_json::from_str::<Value>(&kept).unwrap(),
        "run `cargo xtask gen`"
    );
    let page = fs::read_to_string(root().join("docs/bench-api.md")).unwrap();
    let mut count = 0;
    for (path, of) in described["paths"].as_object().unwrap() {
        for method in of.as_object().unwrap().keys() {
            let asked = path
                .replace("{id}", "first")
                .replace("{run}", "phases")
                .replace("{cable}", "U")
                .replace("{side}", "from.svg")
                .replace("{job}", "1.pdf")
                .replace("{name}", "bolt-preload");
            if asked == "/api/events" {
                continue;
            }
            let answer = if method == "get" {
                bench.get(&asked)
            } else {
                bench.post(&asked, &json!({ "?": 1 }))
            };
            let words = String::from_utf8_lossy(&answer.body).into_owned();
            assert!(![0, 405, 500].contains(&answer.status), "{method} {path}: {words}");
            assert!(!words.contains("there is no such call"), "{method} {path}: {words}");
            count += 1;
        }
        let plain = path
            .replace("/ends/{run}/{cable}/{side}", "/ends/{run}")
            .replace("/{job}", "/{job");
        let stem = plain.trim_end_matches("/redo").trim_end_matches("/{name}");
        assert!(
            page.contains(stem) || path.ends_with("redo"),
            "{path} is not told in docs/bench-api.md"
        );
    }
    assert!(count >= 35, "{count}");
}

#[test]
fn a_folder_that_is_a_build_is_opened_as_one() {
    let all = builds("bench-here", &["first"]);
    let bench = Bench::start(&all.join("first"));
    assert_eq!(bench.read("/api/about")["only"], "here");
    assert_eq!(bench.read("/api/builds/here/planned")["title"], "First build");
    assert_eq!(bench.post("/api/builds", &json!({ "name": "x" })).status, 400);
    let mut stream = bench.line();
    stream.write_all(b"nonsense\r\n\r\n").unwrap();
    let mut said = Vec::new();
    let _ = stream.read_to_end(&mut said);
    assert_eq!(bench.get("/api/about").status, 200);
}

#[test]
fn a_folder_that_is_not_there_is_said() {
    let none = folder("bench-none").join("none");
    let output = command().arg("bench").arg(none).arg("--no-open").output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("there is no such folder"));
}
