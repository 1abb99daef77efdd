//! Connections: accepted, counted, and never so many that nobody else can come in.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::task::AbortHandle;

/// Connections at a time: below what a process may commonly have open, 1024.
const MOST: usize = 600;
/// Who has not said what it wants by then is let go.
const HEADERS: Duration = Duration::from_secs(10);

/// What is known of a connection.
struct Line {
    /// Whether it has ever asked anything.
    spoke: AtomicBool,
    /// Questions being answered.
    busy: AtomicUsize,
    end: Mutex<Option<AbortHandle>>,
}

type Lines = Arc<Mutex<BTreeMap<u64, Arc<Line>>>>;

fn locked(lines: &Lines) -> MutexGuard<'_, BTreeMap<u64, Arc<Line>>> {
    lines.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Serves for ever.
pub(crate) async fn serve(listener: TcpListener, app: Router) {
    let lines: Lines = Arc::default();
    let mut number = 0_u64;
    loop {
        let stream = match listener.accept().await {
            Ok((stream, _)) => stream,
            Err(_) => {
                // Too many open files, or a caller that is gone again: a moment later it goes on.
                tokio::time::sleep(Duration::from_millis(50)).await;
                continue;
            }
        };
        if !make_room(&lines) {
            continue;
        }
        number += 1;
        take(&lines, number, stream, app.clone());
    }
}

/// Lets the least useful connection go when there are too many. Whether there is room for one more.
fn make_room(lines: &Lines) -> bool {
    let mut lines = locked(lines);
    if lines.len() < MOST {
        return true;
    }
    let idle = |line: &Line| line.busy.load(Ordering::Relaxed) == 0;
    let silent = |line: &Line| idle(line) && !line.spoke.load(Ordering::Relaxed);
    let oldest = lines
        .iter()
        .find(|(_, line)| silent(line))
        .or_else(|| lines.iter().find(|(_, line)| idle(line)))
        .map(|(number, _)| *number);
    let Some(line) = oldest.and_then(|number| lines.remove(&number)) else { return false };
    let end = line.end.lock().unwrap_or_else(PoisonError::into_inner).take();
    if let Some(end) = end {
        end.abort();
    }
    true
}

fn take(lines: &Lines, number: u64, stream: TcpStream, app: Router) {
    let line = Arc::new(Line {
        spoke: AtomicBool::new(false),
        busy: AtomicUsize::new(0),
        end: Mutex::new(None),
    });
    locked(lines).insert(number, Arc::clone(&line));
    let (own, all) = (Arc::clone(&line), Arc::clone(lines));
    let app = app.layer(axum::middleware::from_fn(
        move |request: Request, next: axum::middleware::Next| {
            let line = Arc::clone(&own);
            async move {
                line.spoke.store(true, Ordering::Relaxed);
                line.busy.fetch_add(1, Ordering::Relaxed);
                let response = next.run(request).await;
                line.busy.fetch_sub(1, Ordering::Relaxed);
                response
            }
        },
    ));
    // A change is one small packet and its answer another: waiting for more to send only costs time.
    let _ = stream.set_nodelay(true);
    let task = tokio::spawn(async move {
        let mut http = http1::Builder::new();
        http.timer(TokioTimer::new()).header_read_timeout(HEADERS);
        // How a connection ends is its own affair.
        let _ =
            http.serve_connection(TokioIo::new(stream), TowerToHyperService::new(app)).await;
        locked(&all).remove(&number);
    });
    *line.end.lock().unwrap_or_else(PoisonError::into_inner) = Some(task.abort_handle());
}
