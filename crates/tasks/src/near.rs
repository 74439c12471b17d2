//! The nearest names to one that is not known.

/// At most three names near enough to be meant, best first.
pub(crate) fn nearest<'a>(typed: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let typed = fold(typed);
    let mut near: Vec<(usize, usize, &str)> = names
        .enumerate()
        .filter_map(|(order, name)| Some((distance(&typed, &fold(name))?, order, name)))
        .collect();
    near.sort_unstable();
    near.dedup_by(|a, b| a.2 == b.2);
    near.into_iter().take(3).map(|(_, _, name)| name).collect()
}

/// `"A"`, `"A" or "B"`; nothing for none.
pub(crate) fn or(names: &[&str]) -> Option<String> {
    let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
    let (last, rest) = quoted.split_last()?;
    Some(if rest.is_empty() { last.clone() } else { format!("{} or {last}", rest.join(", ")) })
}

fn fold(name: &str) -> String {
    name.replace(['-', '_', ':'], " ").split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Less is nearer; `None` is too far. A word in common brings two names together.
fn distance(typed: &str, name: &str) -> Option<usize> {
    let a: Vec<char> = typed.chars().take(80).collect();
    let b: Vec<char> = name.chars().take(80).collect();
    let edits = edits(&a, &b);
    let shared =
        typed.split(' ').filter(|w| w.chars().count() > 2 && name.split(' ').any(|n| n == *w)).count();
    let begins = !typed.is_empty() && name.starts_with(typed);
    (edits <= 1.max(a.len() / 3) || shared > 0 || begins)
        .then(|| (edits + 20).saturating_sub(10 * shared.min(2)))
}

/// Letters to change, add or leave out.
fn edits(a: &[char], b: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (cb, pair) in b.iter().zip(row.windows(2)) {
            let &[over, up] = pair else { continue };
            let left = next.last().copied().unwrap_or(0);
            next.push((over + usize::from(ca != cb)).min(up + 1).min(left + 1));
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_find_their_name_and_nonsense_finds_none() {
        let names = ["MIXER: all dead", "MIXER: supply", "LEFT SPEAKER: all dead"];
        assert_eq!(nearest("mixr: supply", names.into_iter()).first(), Some(&"MIXER: supply"));
        assert_eq!(nearest("left speeker", names.into_iter()), ["LEFT SPEAKER: all dead"]);
        assert!(nearest("zzzzzzzzz", names.into_iter()).is_empty());
        assert_eq!(or(&["a", "b"]).as_deref(), Some("\"a\" or \"b\""));
    }
}
