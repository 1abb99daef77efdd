//! `loomwright bench`: the builds of a folder in the browser.

use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};
use tokio::net::TcpListener;

use crate::bench::{room::Room, routes, serve};
use crate::{Outcome, builds, terminal};

/// The port where nothing else is said, and how many above it are tried.
const PORT: u16 = 7373;
const TRIED: u16 = 20;

/// See and change builds in the browser
#[derive(clap::Args)]
#[command(
    after_help = "Example:\n  loomwright bench my-build\n  loomwright bench builds --port 8080 --no-open\n\n\
    Only this machine can reach it, and only its own pages. Ctrl-C ends it; whatever was acknowledged is saved"
)]
pub(crate) struct Arguments {
    /// Folder of a build, or of several
    #[arg(value_name = "DIR", default_value = ".")]
    folder: PathBuf,
    /// Port to listen on [default: 7373, or the next that is free]
    #[arg(long, value_name = "N")]
    port: Option<u16>,
    /// Do not open the browser
    #[arg(long)]
    no_open: bool,
}

/// Serves until it is interrupted.
pub(crate) fn run(arguments: &Arguments) -> Result<Outcome> {
    let folder = &arguments.folder;
    if !folder.is_dir() {
        bail!("{}: there is no such folder", folder.display());
    }
    // Shown on the first page: where one is matters more there than how it was typed.
    let whole = std::path::absolute(folder).unwrap_or_else(|_| folder.clone());
    let room = Room::open(&whole, builds::read)?;
    let threads = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .context("no threads can be started")?;
    threads.block_on(async {
        let listener = listen(arguments.port).await?;
        let port = listener.local_addr().context("the port is not known")?.port();
        let address = format!("http://127.0.0.1:{port}/");
        terminal::result(&format!("{address}\n"))?;
        terminal::message(&format!("the bench is open at {address}; Ctrl-C closes it"));
        if !arguments.no_open {
            open(&address);
        }
        tokio::select! {
            () = serve::serve(listener, routes::app(room, port)) => {}
            // A signal that cannot be waited for leaves the bench open, which is what was asked for.
            Ok(()) = tokio::signal::ctrl_c() => {}
        }
        Ok::<(), anyhow::Error>(())
    })?;
    // Books under way are not waited for.
    threads.shutdown_background();
    Ok(Outcome::Holds)
}

/// Listens on loopback only.
async fn listen(port: Option<u16>) -> Result<TcpListener> {
    let on = |port: u16| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    if let Some(port) = port {
        return on(port).await.with_context(|| {
            format!("port {port} cannot be used; choose another with --port")
        });
    }
    for port in PORT..PORT + TRIED {
        if let Ok(listener) = on(port).await {
            return Ok(listener);
        }
    }
    on(0).await.context("no port is free")
}

/// Opens the browser; if that does not work, the address has been said.
fn open(address: &str) {
    let program = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let mut command = Command::new(program);
    command.arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let _ = command.spawn();
}
