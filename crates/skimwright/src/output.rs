//! Data to standard output, everything else to standard error; neither ever panics. What a stranger's file says never
//! reaches the terminal as a command to it: everything is cleaned here.

use anstream::ColorChoice;
use boat::Units;
use std::borrow::Cow;
use std::io::{ErrorKind, IsTerminal as _, Write as _};
use std::process::ExitCode;
use std::sync::OnceLock;

use crate::colours;
use crate::failure::Failure;

/// What is shown is in these; set once, before anything is shown.
static UNITS: OnceLock<Units> = OnceLock::new();

/// Shows everything in these units from now on; the first to say so is followed.
pub fn show_in(units: Units) {
    let _ = UNITS.set(units);
}

/// Those that were asked for, or those of the boat; none yet where nobody said so.
pub fn chosen() -> Option<Units> {
    UNITS.get().copied()
}

/// What is shown is in these.
pub fn units() -> Units {
    chosen().unwrap_or_default()
}

/// Writes an answer for a person, in the units chosen.
pub fn print(text: &str) -> Result<(), Failure> {
    print_data(&units().in_words(text))
}

/// Writes data as it is. A reader that has gone away (`| head`) ends the program quietly.
pub fn print_data(text: &str) -> Result<(), Failure> {
    let text = cleaned(text);
    let mut out = anstream::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(Failure::NobodyListens),
        Err(error) => Err(Failure::new(
            format!("cannot write the output: {error}"),
            "",
        )),
    }
}

/// Writes a value as indented JSON.
pub fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    // By way of the compact form, for which there is code already.
    let text = json(value)?;
    let text = serde_json::from_str::<serde_json::Value>(&text)
        .and_then(|value| serde_json::to_string_pretty(&value))
        .map_err(|error| Failure::new(format!("cannot write JSON: {error}"), ""))?;
    print_data(&format!("{}\n", escaped(&text)))
}

/// Writes an answer as JSON, or as text.
pub fn give<A: serde::Serialize>(
    as_json: bool,
    answer: &A,
    as_text: impl FnOnce(&A) -> String,
) -> Result<(), Failure> {
    if as_json {
        print_json(answer)
    } else {
        print(&as_text(answer))
    }
}

/// A value as JSON for a file.
pub fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    serde_json::to_string(value)
        .map_err(|error| Failure::new(format!("cannot write JSON: {error}"), ""))
}

/// Writes a remark. If nobody can read it, that is no reason to stop.
pub fn warn(text: &str) {
    put(&cleaned(&units().in_words(text)));
}

/// Writes a drawing, which `with` makes with colours or without. Where something in it could be taken for a command to
/// the terminal it is cleaned, and has no colours.
pub fn draw(with: impl Fn(bool) -> String) {
    let plain = with(false);
    match cleaned(&plain) {
        Cow::Borrowed(_) if colour_on_stderr() => put(&with(true)),
        clean => put(&clean),
    }
}

fn put(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// Whether a terminal may take a character for a command, or for a part of one.
fn commands(c: char) -> bool {
    c.is_control() && !matches!(c, '\n' | '\t')
}

/// With a sign in place of each such character, but for our own colours: what they are is known to the letter.
fn cleaned(text: &str) -> Cow<'_, str> {
    if !text.contains(commands) {
        return Cow::Borrowed(text);
    }
    let own = colours::written();
    let mut clean = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(commands) {
        clean.push_str(&rest[..at]);
        rest = &rest[at..];
        let known = own.iter().find(|c| rest.starts_with(c.as_str()));
        let (shown, long) = match known {
            Some(colour) => (colour.as_str(), colour.len()),
            None => ("\u{fffd}", rest.chars().next().map_or(0, char::len_utf8)),
        };
        clean.push_str(shown);
        rest = &rest[long..];
    }
    clean.push_str(rest);
    Cow::Owned(clean)
}

/// The same for JSON, where such characters can only stand in texts: written so that they are read back.
fn escaped(json: &str) -> Cow<'_, str> {
    if !json.contains(commands) {
        return Cow::Borrowed(json);
    }
    let each = json.chars().map(|c| match commands(c) {
        true => format!("\\u{:04x}", u32::from(c)),
        false => c.to_string(),
    });
    Cow::Owned(each.collect())
}

/// Whether remarks are read by a person at a terminal.
pub fn person_at_stderr() -> bool {
    std::io::stderr().is_terminal()
}

/// Whether remarks may be coloured: a terminal, and `NO_COLOR` not set.
fn colour_on_stderr() -> bool {
    anstream::AutoStream::choice(&std::io::stderr()) != ColorChoice::Never
}

/// A command line that cannot be followed, or one that asked for help.
pub fn refuse(refusal: &clap::Error) -> ExitCode {
    let _ = refusal.print();
    ExitCode::from(if refusal.use_stderr() { 2 } else { 0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_a_command_to_the_terminal() {
        let odd = "a\u{1b}[31mb\u{9b}2Jc\u{7}d\re\u{7f}\tµ\n";
        assert_eq!(cleaned(odd), "a�[31mb�2Jc�d�e�\tµ\n");
        assert!(matches!(cleaned("plain ± µ\n\t"), Cow::Borrowed(_)));
        assert_eq!(cleaned("\u{1b}[8mhidden\u{1b}[2J"), "�[8mhidden�[2J");
    }

    #[test]
    fn our_own_colours_pass() {
        let style = colours::of(advice::Standing::Watch);
        let text = format!("{style}▲ watch{style:#} a\u{1b}[2J");
        assert_eq!(cleaned(&text), format!("{style}▲ watch{style:#} a�[2J"));
    }

    #[test]
    fn json_is_escaped_and_means_the_same() {
        let odd = "a\u{1b}[31m\u{9b}2J\u{7f}\n";
        let text = serde_json::to_string_pretty(&[odd]).expect("JSON");
        let safe = escaped(&text);
        assert!(!safe.contains(commands), "{safe}");
        let back: Vec<String> = serde_json::from_str(&safe).expect("JSON");
        assert_eq!(back, [odd]);
    }
}
