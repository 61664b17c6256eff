//! Builds the rules folder into the binary: a list of every file's name and text.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default()).join("../rules");
    // Cargo looks at every file below a folder, so that a new one is noticed too.
    println!("cargo::rerun-if-changed={}", root.display());
    let mut files = Vec::new();
    collect(&root, &mut files)?;
    files.sort();
    let mut code = String::from("&[\n");
    for path in &files {
        let name = path.strip_prefix(&root).unwrap_or(path).display().to_string();
        let full = fs::canonicalize(path)?.display().to_string();
        let (name, full) =
            (format!("rules/{name}").escape_default().to_string(), full.escape_default().to_string());
        writeln!(code, "    (\"{name}\", include_str!(\"{full}\")),").map_err(io::Error::other)?;
    }
    code.push_str("]\n");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("rules.rs"), code)
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        // What an editor keeps for itself is no rule, as `files.rs` has it.
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.starts_with('.') || name.ends_with('~') {
            continue;
        }
        if path.is_dir() {
            collect(&path, files)?;
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            files.push(path);
        }
    }
    Ok(())
}
