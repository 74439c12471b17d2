//! Every touch of the disk: one file read, one file written whole.

use std::ffi::OsStr;
use std::fs;
use std::io::{ErrorKind, Read as _, Write as _};
use std::path::Path;

use crate::Bad;

/// Reads a rig file, at most [`model::text::MOST_BYTES`].
///
/// # Errors
/// When it is not there, is a directory, may not be read, or is too big to be a rig.
pub fn read(path: &Path) -> Result<Vec<u8>, Bad> {
    let place = path.display().to_string();
    let cannot = |e: &std::io::Error| match e.kind() {
        ErrorKind::NotFound => Bad {
            code: "no-file",
            place: place.clone(),
            found: "there is no such file".to_owned(),
            expected: "a rig file".to_owned(),
            fix: format!("look at its name and folder{}", nearby(path)),
        },
        ErrorKind::PermissionDenied => Bad {
            code: "not-allowed",
            place: place.clone(),
            found: "you may not read this file".to_owned(),
            expected: "a file that you may read".to_owned(),
            fix: "ask its owner, or copy it to your own folder".to_owned(),
        },
        _ => Bad {
            code: "not-read",
            place: place.clone(),
            found: format!("the file could not be read ({e})"),
            expected: "a rig file".to_owned(),
            fix: "copy it to this machine's own disk and read it there".to_owned(),
        },
    };
    let about = fs::metadata(path).map_err(|e| cannot(&e))?;
    if about.is_dir() {
        return Err(Bad {
            code: "a-folder",
            place,
            found: "this is a folder".to_owned(),
            expected: "a rig file".to_owned(),
            fix: format!("name a file in it{}", inside(path)),
        });
    }
    let most = model::text::MOST_BYTES as u64;
    let mut bytes = Vec::new();
    fs::File::open(path)
        .and_then(|f| f.take(most.saturating_add(1)).read_to_end(&mut bytes))
        .map_err(|e| cannot(&e))?;
    if bytes.len() > model::text::MOST_BYTES {
        let found = if about.is_file() {
            format!("the file holds {} bytes", about.len())
        } else {
            format!("there are more than {most} bytes")
        };
        return Err(Bad {
            code: "too-big",
            place,
            found,
            expected: format!("at most {most} bytes, and a big rig is under 50000"),
            fix: "check that it is a rig file, and not a photo or a recording".to_owned(),
        });
    }
    Ok(bytes)
}

/// Could a file be written here?
///
/// # Errors
/// When `path` is a directory, or names no file.
pub fn may_write(path: &Path) -> Result<&OsStr, Bad> {
    let place = path.display().to_string();
    if path.is_dir() {
        return Err(Bad {
            code: "a-folder",
            place,
            found: "this is a folder".to_owned(),
            expected: "the name of a file to write".to_owned(),
            fix: format!("write -o {}", path.join("cards.html").display()),
        });
    }
    path.file_name().ok_or_else(|| Bad {
        code: "no-name",
        place,
        found: "this names no file".to_owned(),
        expected: "the name of a file to write".to_owned(),
        fix: "write -o cards.html".to_owned(),
    })
}

/// Are these two names of one file that is there?
pub fn is_same(a: &Path, b: &Path) -> bool {
    match (fs::canonicalize(a), fs::canonicalize(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

/// Writes a file whole or not at all: into a new file beside it first, which then takes its name.
///
/// # Errors
/// When `path` is a directory, or its folder is missing, full or read-only.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Bad> {
    let name = may_write(path)?;
    let place = path.display().to_string();
    let mut beside = name.to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = path.with_file_name(beside);
    let written = fs::OpenOptions::new().write(true).create_new(true).open(&beside).and_then(|mut f| {
        f.write_all(bytes)?;
        f.sync_all()
    });
    written.and_then(|()| fs::rename(&beside, path)).map_err(|e| {
        // Half a file helps nobody; when it cannot be removed either, the first error is the one to tell.
        let _gone = fs::remove_file(&beside);
        let (found, fix) = match e.kind() {
            ErrorKind::NotFound => ("its folder is not there".to_owned(), "make the folder first"),
            ErrorKind::PermissionDenied => {
                ("you may not write here".to_owned(), "write to a folder of your own")
            }
            ErrorKind::StorageFull => ("the disk is full".to_owned(), "make room, or write to another disk"),
            _ => (format!("the file could not be written ({e})"), "write to another folder"),
        };
        Bad {
            code: "not-written",
            place: place.clone(),
            found,
            expected: "a place to write one file".to_owned(),
            fix: fix.to_owned(),
        }
    })
}

/// The text of another rig in the folder of `path`: by the name of its file, or by the name on its rig line.
pub fn beside(path: &Path, name: &str) -> Option<String> {
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let others: Vec<_> =
        rigs_in(folder).into_iter().map(|f| folder.join(f)).filter(|f| !is_same(f, path)).collect();
    let text = |file: &Path| read(file).ok().map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    let wanted = plain(name);
    let stem =
        |file: &&std::path::PathBuf| file.file_stem().is_some_and(|s| plain(&s.to_string_lossy()) == wanted);
    if let Some(file) = others.iter().find(stem) {
        return text(file);
    }
    let called = |text: &String| {
        text.lines().any(|l| {
            l.trim().strip_prefix("rig ").is_some_and(|n| plain(n.trim_matches(['"', ' '])) == wanted)
        })
    };
    others.iter().filter_map(|f| text(f)).find(called)
}

/// A name as it is compared with the name of a file: `Harbour Café` is `harbour-café.rig`.
fn plain(name: &str) -> String {
    let name = name.to_lowercase().replace(['-', '_'], " ");
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A rig file whose name is near to one that is not there.
fn nearby(path: &Path) -> String {
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let wanted = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let names = rigs_in(folder);
    let near = crate::near::nearest(&wanted, names.iter().map(String::as_str));
    near.first().map_or(String::new(), |n| format!("; did you mean {}?", path.with_file_name(n).display()))
}

/// A rig file in a folder, to name as an example.
fn inside(folder: &Path) -> String {
    let names = rigs_in(folder);
    names.first().map_or(String::new(), |n| format!(", such as {}", folder.join(n).display()))
}

fn rigs_in(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut names: Vec<String> = entries
        .filter_map(Result::ok)
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .filter(|n| n.ends_with(".rig"))
        .collect();
    names.sort();
    names
}
