//! A bench that runs, and a client that can also be rude.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use super::command;

/// A bench on a port of its own; ends with the test.
pub(crate) struct Bench {
    child: Child,
    pub(crate) port: u16,
}

/// An answer.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&self.body)))
    }
}

impl Bench {
    pub(crate) fn start(folder: &Path) -> Bench {
        let mut child = command()
            .arg("bench")
            .arg(folder)
            .args(["--no-open", "--port", "0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.as_mut().unwrap()).read_line(&mut line).unwrap();
        let port = line.trim().trim_end_matches('/').rsplit(':').next().unwrap();
        let port = port.parse().unwrap_or_else(|_| panic!("no address: {line:?}"));
        Bench { child, port }
    }

    /// As a power cut would.
    pub(crate) fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    pub(crate) fn line(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        stream
    }

    /// Sends exactly this and reads what comes until the bench closes.
    pub(crate) fn raw(&self, request: &[u8]) -> Answer {
        let mut stream = self.line();
        // A refused request may be answered before all of it has gone out.
        let _ = stream.write_all(request);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        answer(&all)
    }

    pub(crate) fn ask(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Answer {
        let mut text = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
        if !headers.iter().any(|(name, _)| name.eq_ignore_ascii_case("host")) {
            text.push_str(&format!("Host: 127.0.0.1:{}\r\n", self.port));
        }
        for (name, value) in headers {
            text.push_str(&format!("{name}: {value}\r\n"));
        }
        if !body.is_empty() || method == "POST" {
            text.push_str(&format!("Content-Length: {}\r\n", body.len()));
        }
        text.push_str("\r\n");
        self.raw(&[text.as_bytes(), body].concat())
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, &[], b"")
    }

    pub(crate) fn read(&self, path: &str) -> Value {
        let answer = self.get(path);
        assert_eq!(answer.status, 200, "{path}: {}", String::from_utf8_lossy(&answer.body));
        answer.json()
    }

    pub(crate) fn post(&self, path: &str, body: &Value) -> Answer {
        let headers = [("Content-Type", "application/json")];
        self.ask("POST", path, &headers, body.to_string().as_bytes())
    }

    pub(crate) fn change(&self, path: &str, body: &Value) -> Value {
        let answer = self.post(path, body);
        assert_eq!(answer.status, 200, "{path}: {}", String::from_utf8_lossy(&answer.body));
        answer.json()
    }

    pub(crate) fn set(&self, id: &str, path: &[&str], value: &str) -> Value {
        let edit = json!({ "edits": [{ "path": path, "value": value }] });
        self.change(&format!("/api/builds/{id}/set"), &edit)
    }

    /// Waits for an event of this name about which `wanted` is right.
    pub(crate) fn event(
        &self,
        name: &str,
        events: &mut Events,
        wanted: impl Fn(&Value) -> bool,
    ) -> Value {
        let until = Instant::now() + Duration::from_secs(30);
        while Instant::now() < until {
            let (found, data) = events.next();
            if found == name && wanted(&data) {
                return data;
            }
        }
        panic!("no event {name} came");
    }

    pub(crate) fn events(&self) -> Events {
        let mut stream = self.line();
        let port = self.port;
        write!(stream, "GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n").unwrap();
        let mut events = Events(BufReader::new(stream));
        assert_eq!(events.next().0, "hello");
        events
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A stream of events.
pub(crate) struct Events(BufReader<TcpStream>);

impl Events {
    pub(crate) fn next(&mut self) -> (String, Value) {
        let mut name = String::new();
        loop {
            let mut line = String::new();
            assert!(self.0.read_line(&mut line).unwrap() > 0, "the stream ended");
            if let Some(found) = line.strip_prefix("event: ") {
                name = found.trim().to_owned();
            } else if let Some(data) = line.strip_prefix("data: ") {
                return (name, serde_json::from_str(data).unwrap());
            }
        }
    }
}

fn answer(all: &[u8]) -> Answer {
    let split = all.windows(4).position(|w| w == b"\r\n\r\n");
    let Some(split) = split else {
        return Answer { status: 0, head: String::new(), body: all.to_vec() };
    };
    let head = String::from_utf8_lossy(&all[..split]).into_owned();
    let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).unwrap_or(0);
    let mut body = all[split + 4..].to_vec();
    if head.to_lowercase().contains("transfer-encoding: chunked") {
        body = unchunked(&body);
    }
    Answer { status, head, body }
}

fn unchunked(mut rest: &[u8]) -> Vec<u8> {
    let mut body = Vec::new();
    while let Some(end) = rest.windows(2).position(|w| w == b"\r\n") {
        let size =
            usize::from_str_radix(std::str::from_utf8(&rest[..end]).unwrap(), 16).unwrap();
        body.extend_from_slice(&rest[end + 2..end + 2 + size]);
        rest = &rest[end + 4 + size..];
        if size == 0 {
            break;
        }
    }
    body
}
