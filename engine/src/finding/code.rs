//! The closed list of findings, by their stable names.

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing; nothing has to be done.
    Note,
    /// To be mended, though a call can be made with it.
    Warning,
    /// No call is made with it.
    Error,
}

impl Severity {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// Writes the enum, the list of all, the names, the severities and the pages from one table.
macro_rules! codes {
    ($($(#[$doc:meta])+ $name:ident = $severity:ident $word:literal,)+) => {
        /// What kind of fault a finding is. The name is stable: pages and tests go by it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code {
            $($(#[$doc])+ $name,)+
        }

        impl Code {
            /// Every code, in the order of the table.
            pub const ALL: &[Self] = &[$(Self::$name),+];

            /// The stable name, such as `unknown-key`.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self {
                    $(Self::$name => $word,)+
                }
            }

            /// How much it matters.
            #[must_use]
            pub const fn severity(self) -> Severity {
                match self {
                    $(Self::$name => Severity::$severity,)+
                }
            }

            /// The page on this code, as Markdown: what is wrong, why it matters, an example and how it is mended.
            #[must_use]
            pub fn page(self) -> &'static str {
                match self {
                    $(Self::$name => include_str!(concat!("../../explain/", $word, ".md")),)+
                }
            }
        }
    };
}

codes! {
    /// Bytes that are not UTF-8, or characters that cannot be seen.
    NotText = Error "not-text",
    /// A file or a line over the size that is read.
    TooLarge = Error "too-large",
    /// Text that is not YAML.
    BadYaml = Error "bad-yaml",
    /// A line that stands deeper, or less deep, than what it belongs to.
    WrongDepth = Error "wrong-depth",
    /// An item of a list without its dash, or a dash without its blank.
    MissingDash = Error "missing-dash",
    /// A part of YAML that rule files do without: anchors, aliases, tags, merge keys, odd keys.
    ForbiddenYaml = Error "forbidden-yaml",
    /// Lists and mappings inside one another beyond the depth that is read.
    TooDeep = Error "too-deep",
    /// A second document in one file.
    TwoDocuments = Error "two-documents",
    /// A file with nothing in it.
    EmptyFile = Error "empty-file",
    /// So many faults that the rest of the file was not looked at.
    TooMany = Error "too-many",
    /// More findings of one file than are shown.
    MoreFindings = Note "more-findings",
    /// The same key twice in one mapping.
    DuplicateKey = Error "duplicate-key",
    /// A key with nothing after it.
    EmptyValue = Error "empty-value",
    /// A key that is not known at its place.
    UnknownKey = Error "unknown-key",
    /// A key that has to be there and is not.
    MissingKey = Error "missing-key",
    /// Keys that say too much together: only one of them can hold.
    ClashingKeys = Error "clashing-keys",
    /// A key that is known, and has nothing to say beside what stands around it.
    MisplacedKey = Error "misplaced-key",
    /// Text where a list stands, a number where text stands, and the like.
    WrongType = Error "wrong-type",
    /// A value that does not say anything here.
    BadValue = Error "bad-value",
    /// A file of no kind that is known by its top key.
    UnknownKind = Error "unknown-kind",
    /// A file that begins as rules or as a case, under a name that is not read.
    FileNotRead = Warning "file-not-read",
    /// A file that has to be there and is not.
    MissingFile = Error "missing-file",
    /// A name that nothing goes by.
    UnknownId = Error "unknown-id",
    /// Two things under one name.
    DuplicateId = Error "duplicate-id",
    /// A choice that its reading does not have.
    UnknownChoice = Error "unknown-choice",
    /// A way out that leads nowhere.
    UnknownTarget = Error "unknown-target",
    /// A quantity of another dimension than its place asks for.
    WrongQuantity = Error "wrong-quantity",
    /// A choice without its answer line.
    ChoiceNotCovered = Error "choice-not-covered",
    /// A choice with two answer lines.
    ChoiceCoveredTwice = Error "choice-covered-twice",
    /// Band edges that do not rise.
    EdgesNotAscending = Error "edges-not-ascending",
    /// A question without a route for when it cannot be answered.
    NoCannotRoute = Error "no-cannot-route",
    /// A part replaced though the fact that would tell was not read.
    CannotReplacesPart = Error "cannot-replaces-part",
    /// Work on live parts behind the panel.
    LiveDeedBehindPanel = Error "live-deed-behind-panel",
    /// What only a live unit has, measured in another state.
    MeasuredWithoutPower = Error "measured-without-power",
    /// Dead, and the panel on.
    DeadWithPanelOn = Error "dead-with-panel-on",
    /// Live, and nothing says where the panel is.
    LiveWithAnyPanel = Error "live-with-any-panel",
    /// A deed that settles what only a reading may.
    DeedSettlesHoldOff = Error "deed-settles-hold-off",
    /// A place in a power step's words that nothing fills.
    UnknownPlaceholder = Error "unknown-placeholder",
    /// The words of a power step without a place that is filled in them.
    MissingPlaceholder = Warning "missing-placeholder",
    /// A case that goes by another name than its file.
    CaseNotAsFile = Error "case-not-as-file",
    /// A case's ending that is not its last, yet nothing read after it fails its proof.
    ProofNotFailed = Error "proof-not-failed",
    /// Steps that lead back to themselves.
    Loop = Error "loop",
    /// A step that no route leads to.
    UnreachableStep = Error "unreachable-step",
    /// A repair that changes none of the facts that decided for it.
    RepairChangesNothing = Error "repair-changes-nothing",
    /// A start that does not ask of danger before anything else.
    DangerNotFirst = Error "danger-not-first",
    /// A proof that cannot be read from outside with the power on.
    ProofBehindPanel = Error "proof-behind-panel",
    /// A repair after which nothing is read that would prove it.
    NoProof = Error "no-proof",
    /// A proof that is not read after the repair, since none of its deeds makes it stale.
    ProofNotAnew = Warning "proof-not-anew",
    /// A proof by the very answer that led to the repair.
    ProofAsFound = Warning "proof-as-found",
    /// A fact or an ending with a part in the call that it cannot play.
    WrongRole = Error "wrong-role",
    /// What nobody can tell, and that counts as safe.
    CannotMeansSafe = Error "cannot-means-safe",
    /// Danger, or what may be, that does not end in getting people away.
    DangerGoesOn = Error "danger-goes-on",
    /// A look or a deed behind the panel with the power in any state.
    AnyPowerBehindPanel = Error "any-power-behind-panel",
    /// A resistance that may be measured on live parts.
    ResistanceNotDead = Error "resistance-not-dead",
    /// A deed that lets the supply through without the word that hold-offs go by.
    UnguardedSupply = Error "unguarded-supply",
    /// A deed done dead or behind the panel, and said to let the supply through.
    EnergisesWithHandsIn = Error "energises-with-hands-in",
    /// A hold-off that rests on what can only be read live.
    HoldOffNeedsPower = Error "hold-off-needs-power",
    /// A repair that comes of what nobody could tell, with nothing before it that decided for it.
    RepairUnread = Warning "repair-unread",
    /// A reading or a working that nothing goes by.
    UnusedReading = Note "unused-reading",
    /// A deed that no ending is made of.
    UnusedDeed = Warning "unused-deed",
    /// A look that leads to a repair and lasts until touched, and that no deed touches.
    NeverStale = Warning "never-stale",
    /// A reading that lasts as long as the unit and that a deed makes stale, or that is read live and outlasts the visit.
    LastsTooLong = Warning "lasts-too-long",
    /// A repair that leaves the sign that led to it, and by which other work is proved, as it was found.
    LeftAsFound = Warning "left-as-found",
    /// A deed that sets a fact to what it was found to be wherever it is done.
    SetAsFound = Warning "set-as-found",
    /// An ending that no line comes to.
    UnusedEnding = Warning "unused-ending",
    /// A line of a tree that ends as only the call itself does.
    EndingOfTheCall = Warning "ending-of-the-call",
    /// A line that no call can take.
    DeadBranch = Warning "dead-branch",
    /// A question that is known already on every way to it.
    NeverAsked = Warning "never-asked",
    /// A live question that power is held off from on every way to it.
    HeldOffQuestion = Warning "held-off-question",
    /// A repair that is never proved, because something else holds power off.
    HeldOffRepair = Warning "held-off-repair",
    /// Neighbouring questions that would save a lock-out the other way round.
    SwapSavesLockOut = Note "swap-saves-lock-out",
    /// A threshold that does not say where it comes from.
    ThresholdWithoutSource = Warning "threshold-without-source",
    /// A reading that bands are chosen by, and that does not say how good its meter is.
    NoMeter = Warning "no-meter",
    /// A reading that bands are chosen by, and that does not say between which values it lies.
    NoRange = Warning "no-range",
    /// A resistance that does not take the meter's own sign for an open circuit.
    NoOverRange = Warning "no-over-range",
    /// A tree that a complaint leads to, and that does not say so.
    NoComplaint = Warning "no-complaint",
    /// A range in another unit than a bare number is taken in.
    RangeInOtherUnit = Warning "range-in-other-unit",
    /// Work done dead, a reading taken live or a power step that does not say what can hurt.
    NoCaution = Warning "no-caution",
    /// A question that is too long to be said in one breath.
    LongQuestion = Warning "long-question",
    /// Text that is cut, or run together, by a sign that YAML takes for its own.
    TextCut = Warning "text-cut",
    /// Two readings, deeds or endings under one name.
    SameName = Warning "same-name",
    /// An id that YAML tools read as something else than a word.
    OddId = Warning "odd-id",
}

impl Code {
    /// The code of a stable name.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|code| code.as_str() == word)
    }

    /// What is wrong, in one sentence: the first of its page, below the heading.
    #[must_use]
    pub fn sentence(self) -> &'static str {
        self.page().lines().nth(2).unwrap_or_default()
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::Code;

    #[test]
    fn every_code_is_found_by_its_own_name_in_small_letters_and_dashes() {
        for &code in Code::ALL {
            assert_eq!(Code::from_word(code.as_str()), Some(code));
            assert!(code.as_str().chars().all(|c| c.is_ascii_lowercase() || c == '-'));
        }
        assert_eq!(Code::from_word("nothing"), None);
    }
}
