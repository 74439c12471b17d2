//! The nearest name to one that is not known.

/// Names nearest to `typed`, best first, at most three; only those near enough to be meant.
pub(crate) fn nearest<'a>(typed: &str, names: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let typed = crate::fold(typed);
    let mut scored: Vec<(usize, usize, &str)> = names
        .enumerate()
        .filter_map(|(order, name)| score(&typed, &crate::fold(name)).map(|s| (s, order, name)))
        .collect();
    scored.sort_unstable();
    let best = scored.first().map_or(0, |(s, _, _)| *s);
    scored.into_iter().filter(|(s, _, _)| *s <= best + 4).take(3).map(|(_, _, name)| name).collect()
}

/// Less is nearer; `None` when too far. Words in common count in favour.
fn score(typed: &str, name: &str) -> Option<usize> {
    let a: Vec<char> = typed.chars().take(60).collect();
    let b: Vec<char> = name.chars().take(60).collect();
    let edits = edits(&a, &b);
    let shared =
        typed.split(' ').filter(|w| w.len() > 2 && *w != "the" && name.split(' ').any(|n| n == *w)).count();
    let near = edits <= 1.max(a.len() / 3);
    (near || shared > 0).then(|| (edits * 2 + 16).saturating_sub(shared * 8))
}

/// Letters to change, add, leave out, or swap with their neighbour.
fn edits(a: &[char], b: &[char]) -> usize {
    let at = |row: &[usize], i: usize| row.get(i).copied().unwrap_or(usize::MAX / 2);
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let mut least =
                (at(&row, j) + usize::from(ca != cb)).min(at(&row, j + 1) + 1).min(at(&next, j) + 1);
            if i > 0 && j > 0 && a.get(i - 1) == Some(cb) && b.get(j - 1) == Some(ca) {
                least = least.min(at(&before, j - 1) + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
    }
    row.last().copied().unwrap_or(0)
}

/// `did you mean "x" or "y"?`, or the names there are, or `otherwise`.
pub(crate) fn did_you_mean<'a>(
    typed: &str,
    names: impl Iterator<Item = &'a str> + Clone,
    otherwise: &str,
) -> String {
    let near = nearest(typed, names.clone());
    if !near.is_empty() {
        return format!("write {}", or(&near));
    }
    let all: Vec<&str> = names.take(13).collect();
    if all.is_empty() || all.len() > 12 {
        otherwise.to_owned()
    } else {
        format!("there are: {}", all.join(", "))
    }
}

/// `"a", "b" or "c"`.
pub(crate) fn or(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_pen_find_their_name() {
        let names = ["MIXER", "PIANO", "LEFT SPEAKER", "RIGHT SPEAKER"];
        assert_eq!(nearest("mixr", names.into_iter()), ["MIXER"]);
        assert_eq!(nearest("pinao", names.into_iter()), ["PIANO"]);
        assert_eq!(nearest("speaker", names.into_iter()), ["LEFT SPEAKER", "RIGHT SPEAKER"]);
        assert!(nearest("toaster", names.into_iter()).is_empty());
    }
}
