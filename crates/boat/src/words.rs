//! Suggestions for misspelt words.

/// The candidate that `word` most likely meant, if any is close.
pub(crate) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let length = word.chars().count();
    // Longer than any word of ours by more than a slip.
    if length > 100 {
        return None;
    }
    let lower = word.to_lowercase();
    let allowed = (length / 3).max(1);
    candidates
        .into_iter()
        .map(|c| (strsim::osa_distance(&lower, &c.to_lowercase()), c))
        .filter(|(distance, c)| *distance <= allowed && *distance < length.max(c.chars().count()))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, c)| c)
}

/// `a, b or c` with each in backquotes.
pub(crate) fn one_of(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}
