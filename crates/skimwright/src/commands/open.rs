//! The page: a local server, and the browser on it.

use serde_json::json;
use server::{App, Config};
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use super::Outcome;
use crate::cli::Open;
use crate::failure::Failure;
use crate::output;
use crate::qr;

/// So long the end waits for what is being worked out.
const PATIENCE: Duration = Duration::from_millis(800);

/// Told before anything opens.
const NO_PAGE: &str = "\
This program was built without its page, so no browser is opened; scripts are answered all the same.
To have the page, install Node 20.19 or later and run in the source folder:
  cd web && npm ci && npm run build && cd .. && cargo build --release
Until then `skimwright check` and `skimwright report` give the same findings.
";

pub fn run(given: &Open) -> Result<Outcome, Failure> {
    if given.print_openapi {
        output::print_data(&server::openapi())?;
        return Ok(Outcome::Good);
    }
    if !web_assets::is_built() {
        output::warn(NO_PAGE);
    }
    let app = App::new(config(given)?).map_err(|_| {
        Failure::new(
            "the system gives no random numbers, and without them anybody could reach the page",
            "",
        )
    })?;
    let app = Arc::new(app);
    app.open_boat()
        .map_err(|refused| Failure::new(refused.message(), refused.refusal().hint.clone()))?;
    for remark in app.try_desk().iter().flat_map(|desk| desk.remarks()) {
        output::warn(&format!("{remark}\n"));
    }
    let runtime = tokio::runtime::Runtime::new()
        .map_err(|e| Failure::new(format!("cannot start the server: {e}"), ""))?;
    let served = runtime.block_on(server::serve(
        app.clone(),
        |address| announce(given, &app, address),
        asked_to_stop(),
    ));
    // Work that is going on is given up; a write, which is whole or not at all, may still end.
    runtime.shutdown_timeout(PATIENCE);
    served.map_err(|error| {
        Failure::new(
            format!("cannot listen on port {}: {error}", given.port),
            "name another with --port, or leave it out to take a free one",
        )
    })?;
    Ok(Outcome::Good)
}

/// Ctrl-C, or a polite request of the system to end.
async fn asked_to_stop() {
    let interrupted = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut terminated) = signal(SignalKind::terminate()) {
            tokio::select! {
                () = interrupted => {}
                _ = terminated.recv() => {}
            }
            return;
        }
    }
    interrupted.await;
}

fn config(given: &Open) -> Result<Config, Failure> {
    let here = std::env::current_dir()
        .map_err(|e| Failure::new(format!("this folder cannot be read: {e}"), ""))?;
    Ok(Config {
        port: given.port,
        lan: given.lan,
        read_only: given.read_only,
        boats_folder: here,
        state_folder: state_folder(),
        program: std::env::current_exe()
            .map_err(|e| Failure::new(format!("the program cannot find itself: {e}"), ""))?,
        boat: given.boat.clone(),
    })
}

/// Where programs keep what is neither a document nor a setting.
fn state_folder() -> PathBuf {
    let set = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty());
    let home = |inside: &str| set("HOME").map(|home| PathBuf::from(home).join(inside));
    let base = set("XDG_STATE_HOME")
        .or_else(|| set("LOCALAPPDATA"))
        .map(PathBuf::from)
        .or_else(|| home(".local/state"))
        .unwrap_or_else(std::env::temp_dir);
    base.join("skimwright")
}

fn announce(given: &Open, app: &App, address: SocketAddr) {
    let page = format!(
        "http://127.0.0.1:{}/#token={}",
        address.port(),
        app.guard.token()
    );
    let phone = app.guard.code().and_then(|code| {
        let at = own_address()?;
        Some((format!("http://{at}:{}/", address.port()), code))
    });
    if given.json {
        let _ = output::print_json(&json!({
            "address": page,
            "phone": phone.as_ref().map(|(at, code)| json!({"address": at, "code": code})),
        }));
    } else {
        let mut text = format!("the page: {page}\n");
        if let Some((at, code)) = &phone {
            let (a, b) = code.split_at(4);
            text.push_str(&format!("from a phone: {at} and the code {a} {b}\n"));
        }
        text.push_str("stop with Ctrl-C; what you try out is kept\n");
        let _ = output::print(&text);
        if let Some((at, code)) = &phone {
            pictured(&format!("{at}#code={code}"));
        }
    }
    if !given.no_browser && web_assets::is_built() && open::that_detached(&page).is_err() {
        output::warn("no browser could be opened: open the address above in one\n");
    }
}

/// The address for a phone's camera, code and all: behind `#`, which browsers do not send.
fn pictured(address: &str) {
    if qr::picture(address, false).is_none() {
        return;
    }
    output::draw(|colours| {
        let picture = qr::picture(address, colours).unwrap_or_default();
        format!("or point the phone's camera here; whoever sees it is let in too:\n{picture}")
    });
}

/// This computer's address on the local network: the one it would send from. Nothing is sent.
fn own_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    // An address reserved for documentation (RFC 5737): any outside one would do.
    socket.connect("192.0.2.1:9").ok()?;
    Some(socket.local_addr().ok()?.ip())
}
