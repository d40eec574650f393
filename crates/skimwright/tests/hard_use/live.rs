//! The page's server as a process of its own, and requests to it byte by byte.

use crate::folder::Folder;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// No answer takes so long, unless the server hangs.
const PATIENCE: Duration = Duration::from_secs(60);

/// A server, killed when it is dropped.
pub struct Live {
    child: Child,
    /// Where it listens.
    pub host: String,
    /// Who may ask.
    pub token: String,
}

impl Drop for Live {
    fn drop(&mut self) {
        self.kill();
    }
}

/// A boat without drive and rudder, which is worked out in a tenth of the time.
pub fn drifting() -> Folder {
    let text = boat::template("vee", "Tern").expect("known");
    let mut driven = false;
    let kept = text.lines().filter(|line| {
        if line.starts_with('[') {
            let name = line.trim_start_matches('[');
            driven = name.starts_with("drive") || name.starts_with("rudder");
        }
        !driven
    });
    let kept: Vec<&str> = kept.collect();
    Folder::with_boat(&(kept.join("\n") + "\n"))
}

/// The program under test.
pub fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_skimwright"))
}

impl Live {
    /// With a boat open; `state` is the builder's own.
    pub fn start(boat: &Path, state: &Path) -> Self {
        let mut child = program()
            .args(["open", "--no-browser", "--json"])
            .arg(boat)
            .env("XDG_STATE_HOME", state)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("it runs");
        let out = BufReader::new(child.stdout.take().expect("piped"));
        let mut lines = out.lines().map_while(Result::ok);
        let line = lines.find(|line| line.contains("\"address\": \"http://127"));
        let line = line.expect("an address");
        let (_, rest) = line.split_once("http://").expect("an address");
        let (host, rest) = rest.split_once('/').expect("a path");
        let (_, token) = rest.split_once("token=").expect("a token");
        Self {
            child,
            host: host.to_owned(),
            token: token.trim_end_matches(['"', ',']).to_owned(),
        }
    }

    /// Of the process.
    pub fn id(&self) -> u32 {
        self.child.id()
    }

    /// At once, as a loss of power does it.
    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }

    /// Whether it still runs.
    pub fn runs(&mut self) -> bool {
        self.child.try_wait().expect("it is ours").is_none()
    }

    /// The head of a request that may ask.
    pub fn head(&self, method: &str, path: &str, length: usize) -> String {
        format!(
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nX-Skimwright-Token: {}\r\nContent-Type: application/json\r\nConnection: close\r\nContent-Length: {length}\r\n\r\n",
            self.host, self.token
        )
    }

    /// Status and body; nothing when it was not answered.
    pub fn ask(&self, method: &str, path: &str, body: &str) -> Option<(u16, String)> {
        let request = self.head(method, path, body.len()) + body;
        let mut stream = TcpStream::connect(&self.host).ok()?;
        stream.set_read_timeout(Some(PATIENCE)).ok()?;
        stream.write_all(request.as_bytes()).ok()?;
        answered(&mut stream)
    }

    /// The body of what must be answered well.
    pub fn get(&self, path: &str) -> String {
        let (status, body) = self.ask("GET", path, "").expect("an answer");
        assert_eq!(status, 200, "{path}: {body}");
        body
    }

    /// Any bytes, perhaps not the whole of a request.
    pub fn send(&self, bytes: &[u8]) -> Option<(u16, String)> {
        let mut stream = TcpStream::connect(&self.host).ok()?;
        stream.set_read_timeout(Some(PATIENCE)).ok()?;
        // A refusal may come before all is sent.
        let _ = stream.write_all(bytes);
        // Nothing more will come; a server that waits for it is told so.
        let quiet = stream.try_clone().ok()?;
        std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(500));
            let _ = quiet.shutdown(std::net::Shutdown::Write);
        });
        answered(&mut stream)
    }

    /// Tries a value out; whether it was acknowledged.
    pub fn set(&self, path: &[&str], value: &str) -> bool {
        let edits = serde_json::json!({"edits": [{"path": path, "value": value}]});
        let answer = self.ask("PUT", "/api/whatif", &edits.to_string());
        answer.is_some_and(|(status, _)| status == 200)
    }
}

/// Status and body of what comes until the connection is closed.
fn answered(stream: &mut TcpStream) -> Option<(u16, String)> {
    let mut said = Vec::new();
    let _ = stream.read_to_end(&mut said);
    let said = String::from_utf8_lossy(&said).into_owned();
    let (head, body) = said.split_once("\r\n\r\n")?;
    let status = head.split(' ').nth(1)?.parse().ok()?;
    Some((status, body.to_owned()))
}
