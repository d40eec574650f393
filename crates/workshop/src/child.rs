//! Long work in a process of its own, which can be stopped at any moment and gives back what it used.
//!
//! The child is the same program. It reads one [`Request`] as a line of JSON and writes [`Line`]s: how far it is,
//! what should be known, and last the answer or the refusal. A further line `STOP` asks it to come to an end: what
//! was counted so far is then its answer, where that means something. When nobody holds its input any longer, whoever
//! asked is gone. The protocol is between a program and itself, and may change with every version.

use serde::{Deserialize, Serialize};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use crate::bench::{Bench, BoatAt};
use crate::fault::{FaultKind, Refusal};
use crate::question::{Answer, Ask};
use crate::watch::{Remark, Watch};

/// Longer answers are cut off, bytes.
const LONGEST: u64 = 256 << 20;
/// How often it is asked whether the answer is still wanted.
const LOOK: Duration = Duration::from_millis(25);
/// A child that was asked to stop may take so long to say what it has.
const GRACE: Duration = Duration::from_secs(2);
/// Asks a child to stop.
const STOP: &str = "stop";
/// The command of the program that [`serve`]s.
pub const COMMAND: &str = "answer";

/// A question and the boat it is asked of.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Request {
    /// Which boat, for a question of one.
    pub boat: Option<BoatAt>,
    /// What.
    #[serde(flatten)]
    pub ask: Ask,
}

/// What a child says.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Line {
    /// What is being done now.
    Step(String),
    /// Which part of it is done, 0 to 1.
    Part(f64),
    /// What should be known beside the answer.
    Remark(Refusal),
    /// What was asked; the last line.
    Answer(Box<Answer>),
    /// Why there is no answer; the last line.
    Refused(Refusal),
}

/// Whoever waits for a child.
pub trait Listen {
    /// Anything it says but the last line.
    fn line(&mut self, line: &Line);

    /// Whether the answer is still wanted.
    fn wanted(&self) -> bool {
        true
    }
}

/// The child's side: reads a request, and says how it goes and what came of it. `gone` is called when nobody holds
/// the other end of `input` any longer: a process then ends itself.
///
/// # Errors
/// When nobody reads what it says.
pub fn serve(
    input: impl Read + Send + 'static,
    output: impl Write + Send,
    gone: impl FnOnce() + Send + 'static,
) -> std::io::Result<()> {
    let say = Say {
        output: Mutex::new(output),
        hundredths: AtomicU32::new(0),
        stopped: Arc::default(),
    };
    let mut text = String::new();
    let mut input = BufReader::new(input.take(LONGEST));
    let read = input.read_line(&mut text);
    let request: Result<Request, String> = match read {
        Ok(_) => serde_json::from_str(&text).map_err(|e| e.to_string()),
        Err(error) => Err(error.to_string()),
    };
    let stopped = say.stopped.clone();
    std::thread::spawn(move || {
        for line in input.lines().map_while(Result::ok) {
            if line == STOP {
                stopped.store(true, Ordering::Relaxed);
            }
        }
        gone();
    });
    let last = match request {
        Ok(request) => {
            let bench = Bench::new(request.boat.as_ref(), &say);
            match request.ask.answer(&bench) {
                Ok(answer) => Line::Answer(Box::new(answer)),
                Err(fault) => Line::Refused(fault.refusal()),
            }
        }
        Err(why) => Line::Refused(bug(&format!("the question cannot be read: {why}"))),
    };
    say.line(&last)
}

struct Say<W> {
    output: Mutex<W>,
    /// Of the step, as said last.
    hundredths: AtomicU32,
    /// Whether it was asked to stop.
    stopped: Arc<AtomicBool>,
}

impl<W: Write> Say<W> {
    fn line(&self, line: &Line) -> std::io::Result<()> {
        let mut text = serde_json::to_vec(line)?;
        text.push(b'\n');
        let mut out = self.output.lock().unwrap_or_else(|e| e.into_inner());
        out.write_all(&text)?;
        out.flush()
    }
}

impl<W: Write + Send> Watch for Say<W> {
    fn step(&self, what: &'static str) {
        let _ = self.line(&Line::Step(what.to_owned()));
    }

    fn part(&self, done: f64) {
        let hundredths = (done * 100.0) as u32;
        if self.hundredths.swap(hundredths, Ordering::Relaxed) != hundredths {
            let _ = self.line(&Line::Part(done));
        }
    }

    fn remark(&self, remark: &Remark) {
        let _ = self.line(&Line::Remark(remark.refusal()));
    }

    fn wanted(&self) -> bool {
        !self.stopped.load(Ordering::Relaxed)
    }
}

fn bug(message: &str) -> Refusal {
    Refusal {
        kind: FaultKind::Bug,
        message: message.to_owned(),
        hint: "please report what you did last".to_owned(),
        problems: Vec::new(),
    }
}

/// The other side: puts a question to `program`, in `folder`, and waits. The child ends with this call, however it
/// ends. One that is wanted no longer has two seconds to say what it has so far.
///
/// # Errors
/// [`Refusal`] as the child has it; of the kind [`FaultKind::Stopped`] when the answer is wanted no longer.
pub fn put(
    program: &Path,
    folder: &Path,
    request: &Request,
    listen: &mut dyn Listen,
) -> Result<Answer, Refusal> {
    let text = serde_json::to_string(request).map_err(|e| bug(&e.to_string()))?;
    let started = Command::new(program)
        .arg(COMMAND)
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn();
    let mut child = Ends(started.map_err(|e| bug(&format!("the program cannot be started: {e}")))?);
    // Held until the end: a child whose input closes takes its asker for gone.
    let mut input = child.0.stdin.take();
    let mut tell = |text: &str| {
        // A child that died already says so by its silence.
        let _ = input.as_mut().map(|input| writeln!(input, "{text}"));
    };
    tell(&text);
    let Some(output) = child.0.stdout.take() else {
        return Err(bug("the program has no output"));
    };
    let (send, receive) = channel();
    let reader = std::thread::spawn(move || {
        let lines = BufReader::new(output.take(LONGEST)).lines();
        for line in lines.map_while(Result::ok) {
            if send.send(line).is_err() {
                break;
            }
        }
    });
    let mut until: Option<Instant> = None;
    let last = loop {
        match until {
            None if !listen.wanted() => {
                tell(STOP);
                until = Some(Instant::now() + GRACE);
            }
            Some(until) if Instant::now() > until => break Err(stopped()),
            _ => {}
        }
        match receive.recv_timeout(LOOK) {
            Ok(text) => match serde_json::from_str(&text) {
                Ok(Line::Answer(answer)) => break Ok(*answer),
                Ok(Line::Refused(refusal)) => break Err(refusal),
                Ok(line) => listen.line(&line),
                Err(error) => break Err(bug(&format!("the answer cannot be read: {error}"))),
            },
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => {
                break Err(bug("the program failed while working this out"));
            }
        }
    };
    drop(child);
    let _ = reader.join();
    last
}

fn stopped() -> Refusal {
    crate::fault::Fault::Stopped.refusal()
}

/// A child that does not outlive whoever waits for it.
struct Ends(std::process::Child);

impl Drop for Ends {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{CheckAsk, Effort};

    fn served(request: &str) -> Vec<Line> {
        let mut out = Vec::new();
        let input = std::io::Cursor::new(request.to_owned());
        serve(input, &mut out, || ()).expect("memory takes it");
        let text = String::from_utf8(out).expect("JSON is UTF-8");
        let lines = text.lines().map(serde_json::from_str);
        lines.collect::<Result<_, _>>().expect("its own protocol")
    }

    #[test]
    fn a_question_goes_over_and_its_answer_comes_back() {
        let folder = tempfile::tempdir().expect("a folder");
        let request = Request {
            boat: Some(BoatAt {
                path: folder.path().to_owned(),
                draft: boat::template("vee", "Tern"),
            }),
            ask: CheckAsk {
                effort: Effort {
                    variations: 2,
                    seed: 3,
                },
            }
            .into(),
        };
        std::fs::write(folder.path().join("boat.toml"), "what is not saved").expect("written");
        let sent = serde_json::to_string(&request).expect("plain data");
        let lines = served(&sent);
        assert!(lines.iter().any(|l| matches!(l, Line::Step(_))));
        let Some(Line::Answer(answer)) = lines.last() else {
            panic!("no answer: {:?}", lines.last());
        };
        let Answer::Check(answer) = &**answer else {
            panic!("the answer to another question");
        };
        assert_eq!(answer.boat, "Tern");
        assert_eq!(answer.variations.run + answer.variations.not_solved, 2);
        assert!(answer.findings.len() > 10);
    }

    #[test]
    fn a_fault_comes_back_with_its_place() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().to_owned();
        std::fs::write(path.join("boat.toml"), "name = 3\n").expect("written");
        let boat = Some(BoatAt::saved(path));
        let ask = CheckAsk::default().into();
        let sent = serde_json::to_string(&Request { boat, ask }).expect("plain data");
        let Some(Line::Refused(refusal)) = served(&sent).pop() else {
            panic!("not refused");
        };
        assert_eq!(refusal.kind, FaultKind::Unusable);
        assert!(refusal.problems.iter().any(|p| p.line == 1), "{refusal:?}");
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(matches!(
            served("{\"ask\": \"fly\"}").pop(),
            Some(Line::Refused(Refusal {
                kind: FaultKind::Bug,
                ..
            }))
        ));
    }
}
