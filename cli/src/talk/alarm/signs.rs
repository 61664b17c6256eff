//! The words of danger, as a table: single words and phrases, and words that are one only beside others.

use super::found::DENIALS;

/// Words that speak of a danger together, in any order.
///
/// Patterns stand between `|`: a word (`bang`), the start of a word (`smok*`), words in a row (`passed out`).
pub(super) struct Sign {
    /// The danger, by its id; [`SOME_DANGER`] where it is not said which.
    pub(super) danger: &'static str,
    /// One of these is said, and not denied,
    pub(super) any: &'static str,
    /// beside one of each of these, not far from it,
    pub(super) with: &'static [&'static str],
    /// right before one of these, where there are any,
    pub(super) before: &'static str,
    /// and none of these in the same breath,
    pub(super) unless: &'static str,
    /// nor one of these right behind it: they make another thing of it.
    pub(super) not_before: &'static str,
    /// Whether a denial takes it back.
    pub(super) denial: Denial,
}

/// What a denial does to a sign.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Denial {
    /// It takes it back: `no smoke`.
    TakesBack,
    /// It is what makes it one: `does not breathe`.
    Belongs,
}

/// Stands for a danger of which it is not said which it is.
pub(super) const SOME_DANGER: &str = "";

const GAS: &str = "gas_smell";
const BURNING: &str = "smoke_or_burning";
const SHOCK: &str = "shock_felt";
const WATER: &str = "water_on_electrics";
const CO: &str = "co_alarm";
const FLAME: &str = "flame_rollout";
const HURT: &str = "someone_hurt";

/// A sign of its own.
const fn alone(danger: &'static str, any: &'static str) -> Sign {
    beside(danger, any, &[])
}

/// A sign of what was done to somebody.
const fn done_to_somebody(danger: &'static str, any: &'static str) -> Sign {
    let mut sign = alone(danger, any);
    sign.before = "me|him|her|us";
    sign
}

/// A sign beside others.
const fn beside(danger: &'static str, any: &'static str, with: &'static [&'static str]) -> Sign {
    Sign { danger, any, with, before: "", unless: "", not_before: "", denial: Denial::TakesBack }
}

impl Sign {
    const fn unless(mut self, unless: &'static str) -> Self {
        self.unless = unless;
        self
    }

    const fn not_before(mut self, words: &'static str) -> Self {
        self.not_before = words;
        self
    }

    const fn though_denied(mut self) -> Self {
        self.denial = Denial::Belongs;
        self
    }
}

/// Where the supply and what it feeds can be reached by water.
const ELECTRICS: &str = "board*|control*|motor*|panel|plug*|wire*|wiring|transformer*|breaker*|blower*|furnace|\
     unit|cabinet|electric*|electronic*|outlet*|receptacle*|disconnect*|terminal*|\
     connection*|connector*|module*|relay*|harness*|capacitor*|fuse*|junction|handler|\
     floor";
/// Parts that carry the supply: they burn where a joint is bad.
const CONDUCTORS: &str = "breaker*|outlet*|receptacle*|plug*|connector*|connection*|terminal*|lug|lugs|\
     disconnect*|splice*|wire*|wiring|insulation|cord*|cable*|board*|transformer*|fuse*|\
     socket*|relay*|harness*|contactor*";
/// Parts and panels that are never very hot in a sound unit.
const HOT_PARTS: &str = "breaker*|outlet*|receptacle*|plug*|connector*|connection*|terminal*|lug|lugs|disconnect*|\
     splice*|wire*|wiring|insulation|cord*|cable*|board*|transformer*|fuse*|socket*|relay*|harness*|contactor*|\
     motor*|capacitor*|module*|control*|blower*|cabinet|case|casing|panel|door|switch*|part|parts|lead|leads";
/// Things that lie about, where nobody is hurt.
const THINGS: &str = "filter*|panel*|door|tool*|meter*|wheel|motor*|blower*|cover*|paper*|phone|screw*|box|part*|wire*|\
     board*|grille*|fuse*|cap|lid|label*|plate*|manual|sheet|it|they|one|something";
/// Things that are knocked out where nobody is hurt.
const KNOCKED_OUT: &str = "power|storm|lightning|surge|breaker*|fuse*|board*|control*|motor*|transformer*|plug*|wire*|\
     slug*|hole*|knockout*|wheel|bearing*|thermostat|pilot|it";
const METAL: &str = "cabinet|case|casing|frame|chassis|duct*|pipe*|housing|metal|sheet";
const PERSON: &str = "he|she|him|her|guy|man|woman|tech|technician|someone|somebody|helper|apprentice|\
     customer|kid*|child*|boy|girl|buddy|partner|owner|homeowner|tenant|wife|husband|son|\
     dad|mom|mate|coworker|electrician";
const BODY: &str = "hand|hands|arm|arms|finger*|thumb*|face|leg|legs|foot|eye*|skin|elbow*|himself|\
     herself|myself|themselves|me|him|her";
const BODY_OR_PERSON: &str = "he|she|him|her|i|hand|hands|somebody|someone|guy";
const SMELLS: &str = "smell*|smelt|stink*|stank|reek*|odor*|odour*|whiff*";
/// Words that make another thing of `gas`, `fire`, `flame` or `water` before them.
const PARTS: &str = "furnace|furnaces|valve*|heat|heater*|line*|unit*|fired|pipe*|bill|company|sensor*|rod|\
     sense|sensing|wall|up|meter|pressure|burner*|man|fitter|supply|cock|damper*|it up|\
     signal|column|gauge|coil|pump|tank|softener";

/// What hisses and is no gas: air and water on their way.
const OTHER_HISS: &str = "air|duct*|register*|vent*|grille*|filter*|refrigerant|coil|txv|expansion|suction|trap|drain|\
     steam|humidifier|damper*|water";

pub(super) const SIGNS: &[Sign] = &[
    // Gas.
    beside(
        GAS,
        "gas|propane|lp",
        &["smell*|smelt|stink*|stank|reek*|odor*|odour*|whiff*|leak*|hiss*|escap*"],
    ),
    alone(GAS, "gas|propane")
        .not_before(PARTS)
        .unless("gas is off|gas off|gas is on|shut off|turned off|runs on|run on"),
    alone(GAS, "rotten egg*|mercaptan|sulfur|sulphur"),
    beside(GAS, "hiss*", &["valve*|pipe*|pipework|meter|fitting*|regulator*|cylinder"]).unless(OTHER_HISS),
    // Something burns, or is about to.
    alone(BURNING, "smok*|smoulder*|smolder*|ablaze|fizz*|sizzl*|popping|bang|boom"),
    alone(BURNING, "explo*|blew up|blown up|blast|haze|arc|arcs|arced|arcing|loud pop"),
    alone(BURNING, "fire").not_before(PARTS).unless("to fire|will fire|would fire"),
    alone(BURNING, "burning|burns").unless("burner*|pilot"),
    alone(BURNING, "spark*").not_before("igniter*|ignitor*|ignition|rod|electrode*|gap|module"),
    alone(BURNING, "glow*").unless("igniter*|ignitor*|led|light*|lamp*|screen|display"),
    alone(BURNING, "melt*|molten").unless("ice|icing|snow|frost|slush|defrost*"),
    beside(
        BURNING,
        SMELLS,
        &["burn*|hot|scorch*|singe*|plastic|rubber|ozone|fishy|electric*|acrid|toast*|insulation"],
    ),
    beside(BURNING, "burnt|burned|burning|burns|scorch*|singe*|charred|blackened", &[CONDUCTORS])
        .not_before("out|up"),
    beside(BURNING, "hot|overheat*|cooking|cooked|bubbl*|discolo*", &[CONDUCTORS]).not_before(
        "wire*|leg*|lead*|side|conductor*|terminal*|pin*|line*|surface|water|air|attic|day|\
     to ground|to neutral|and neutral|reads|in here|call",
    ),
    beside(
        BURNING,
        "really hot|very hot|too hot|so hot|red hot|burning hot|scalding|hot to touch|hot to the touch|getting hot|\
     gets really hot|getting hotter",
        &[HOT_PARTS],
    )
    .not_before("air|attic|water|day|in here|in there|out here|outside|up here")
    .unless("attic|room|weather|heat exchanger"),
    // Soot round the burners is a flame where it should not be: below.
    alone(BURNING, "soot|sooty|sooted").unless("burner*|door|paint|front"),
    beside(BURNING, "burnt|burned|melted|scorched", &["plastic|rubber|varnish"]),
    // A shock.
    alone(SHOCK, "shock*|zap*|tingl*|electrocut*|jolt*|zing*|numb").not_before("mount*|absorber*"),
    done_to_somebody(SHOCK, "bit|bites|kick*|hit|nip*|poke*|stung|buzz*|threw|knocked"),
    alone(SHOCK, "got lit up|lit me up|lit him up|got me good"),
    beside(SHOCK, "a poke|a nip|a bite|a kick|a buzz|a tickle", &["got|get|gets|took|gave me|gave him|gave her"]),
    beside(SHOCK, "a buzz|a kick|a nip|a bite|a poke", &["felt"])
        .unless("duct*|floor|wall*|vibrat*|noise*|airflow|mount*"),
    beside(SHOCK, "a belt off|a belt from|a whack off|a whack from|a thump off", &["got|get|gets|gave"])
        .unless("truck|van|shelf|store|pulley|sheave"),
    beside(SHOCK, "electricity", &["felt|feel*|through"]),
    alone(SHOCK, "got bit|get bit|gets bit|been bit|was bit|bitten|bit by")
        .unless("dog|screw|drill"),
    beside(SHOCK, "buzz*", &["hand|hands|arm|arms|finger*|elbow*|skin|body"]),
    beside(SHOCK, "is live|are live|was live|feels live|went live", &[METAL]),
    // Water where the supply is.
    alone(WATER, "flood*|soak*|drench*|submerge*|underwater|waterlogged|puddl*"),
    beside(WATER, "wet|overflow*|drip*|spill*|spilt|splash*|spray*|pour*|sopping", &[ELECTRICS]),
    beside(WATER, "leak|leaks|leaked|leaking", &[ELECTRICS])
        .unless("air|ground|case|duct*|current|flue|refrigerant"),
    beside(
        WATER,
        "water|condensate|moisture|rain|rainwater",
        &[
            ELECTRICS,
            "on|onto|in|into|inside|over|under|through|around|across|all|down|everywhere|got|ran|\
     running|standing|com*|pool*|out",
        ],
    )
    .not_before(PARTS)
    .unless("inch*|condensate pump|condensate drain|condensate line"),
    beside(
        WATER,
        "ran over|ran onto|ran into|ran down|ran through",
        &[ELECTRICS, "drain*|pan|water|condensate|rain|tub|toilet|sink|pipe*"],
    ),
    alone(
        WATER,
        "water everywhere|water is everywhere|water on|water is on|water in|water is in|\
     water inside|water over|water all|water is all|water dripping|water is dripping|\
     water running|water is running|water leaking|water is leaking|standing water|in water|\
     standing in water|water standing|water under|water is under",
    )
    .unless("pan|trap|drain|bucket|inch*|tank|humidifier|of water|column|heater"),
    beside(WATER, "roof", &["leak*|drip*"]),
    // Carbon monoxide.
    alone(CO, "alarm*").not_before("panel*|wire*|wiring|cable*"),
    alone(CO, "detector*|beep*|monoxide|dizz*|headach*|nausea*|nauseous|vomit*"),
    alone(CO, "throwing up|lightheaded|light headed|woozy|drowsy|queasy|ppm"),
    beside(CO, "sick|ill|poorly", &["feel*|felt|he|she|i|is|are|am|kids|everybody"]).unless("sick of"),
    beside(CO, "hurt*|pound*|ach*", &["head|heads"]),
    beside(CO, "co", &["high|level*|reading*|meter"]),
    // Flame where it should not be.
    alone(FLAME, "flame*").not_before(PARTS).unless(
        "blue|steady|signal|normal|good|pilot|proves|proven|proving|goes out|went out|drops|\
     lights|sense*|sensor*",
    ),
    beside(FLAME, "flame*|fire", &["outside|front|lick*|shoot*|roll*|out the|out of"]),
    beside(FLAME, "trip*|pop*|open|opened|opens|kick*|blew|blown|went|out", &["rollout*"]),
    beside(FLAME, "scorch*|soot*|burnt|burned|blackened", &["burner*|door|paint|front"]),
    // Somebody who needs help.
    alone(HURT, "unconscious|unresponsive|fainted|fainting|injur*|blood|bloody|ambulance"),
    alone(
        HURT,
        "paramedic*|medic|seizure|convuls*|concuss*|turning blue|passed out|out cold|man down|\
     heart attack|short of breath",
    ),
    alone(HURT, "hurt|hurts").unless("head|heads|hurts nothing|hurt anything|hurt to"),
    alone(HURT, "collaps*")
        .unless("duct*|flex*|hose*|liner*|return*|boot*|vent*|flue*|pipe*|plenum*|filter*"),
    alone(HURT, "bleed*|bled").unless("oil|pump|line*|valve*|nozzle*|air|fuel"),
    beside(HURT, "burn*|cut|cuts|crush*|broke|broken", &[BODY]).unless("cut out|cuts out|on hand"),
    beside(HURT, "caught|trapped|stuck|frozen|froze", &["hand|hands|finger*|arm|sleeve*|hair"]),
    beside(HURT, "took|lost", &["finger*|thumb*|his hand|his arm"]),
    beside(SHOCK, "feel", &[DENIALS, "hand|hands|arm|arms|finger*"]).though_denied(),
    alone(HURT, "he is stuck|she is stuck|he is frozen|she is frozen|is stuck to it|he is trapped"),
    beside(HURT, "hit|banged|cracked", &["his head|her head|my head"]),
    beside(HURT, "on the ground|on his back|on her back", &[PERSON]),
    beside(HURT, "is on the floor|was on the floor|down on the floor|flat on the floor", &[PERSON])
        .not_before("below|above"),
    alone(HURT, "lying on the floor|laying on the floor|lies on the floor|lying on the ground").unless(THINGS),
    beside(HURT, "blacked out|knocked out|fell|fallen|falls|lying|lies|electrocut*", &[PERSON])
        .unless("asleep|behind|voltage|pressure|volts"),
    alone(HURT, "knocked out|knocked cold").not_before("the|a|by|of|one|two|power").unless(KNOCKED_OUT),
    beside(HURT, "is down|went down|goes down", &[PERSON])
        .not_before("in|at|there|the|to|by|here|stairs|on|with|for|a"),
    beside(HURT, "breath*|respond*|mov*|wak*|answer*|talk*|come round", &[PERSON, DENIALS])
        .unless("phone|text*|door|call*|air")
        .though_denied(),
    beside(HURT, "breathe|breath|breathing", &["can't|cant|cannot|stopped|trouble|hard|not"]).though_denied(),
    beside(HURT, "let go|pull away|pull loose|get loose|get off", &[DENIALS, BODY_OR_PERSON]).though_denied(),
    beside(HURT, "let go", &["can't|cant|cannot|won't|couldn't"]).though_denied(),
    beside(HURT, "chest", &["pain*|hurt*|tight*"]),
    beside(HURT, "call|called|calling", &["911|999|112"]),
    // It is not said which.
    alone(SOME_DANGER, "fume|fumes"),
    beside(SOME_DANGER, "hiss*", &["there is|hear|hears|heard|something is"])
        .unless(OTHER_HISS)
        .not_before("noise*|sound*"),
    alone(SOME_DANGER, "emergency|danger|smell*|smelt|stinks|help me|help us|help him"),
    alone(SOME_DANGER, "help her|help them|mayday"),
];
