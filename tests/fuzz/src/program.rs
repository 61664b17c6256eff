//! The conversation of the program, which is no library: its own files, built in.

#[expect(dead_code, unused_imports, reason = "the rest of the program is not here")]
#[path = "../../../cli/src"]
pub mod cli {
    pub mod harmless;
    pub mod standing;
    pub mod talk;
    pub mod wording;
}
