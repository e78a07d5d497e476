//! What is known of the fasteners of a set: their own figures first, else those of the tables.

use super::{ModelThing, World};
use crate::findings::hardware::NotMade;
use locknut_finding::Findings;
use locknut_graph::{Friction, Head, Strength, Thread, Tightening};
use locknut_quantity::{Exact, Limit, System, UnitId};

/// The head that bolts have where nothing else is said of them.
const USUAL_HEAD: &str = "hexagon-";

/// Three tenths of the proof load. The trade has no one figure; this one follows from two: bolts are tightened to
/// about three quarters of their proof load (common practice), and with a torque wrench and estimated friction the
/// most may be two and a half times the least (VDI 2230-1 Table A8, from memory).
pub(super) fn usual_least_preload() -> Exact {
    Exact::new(3.into(), 10.into())
}

/// Every set of fasteners that a model tightens to a figure.
pub fn tightenings(world: &World) -> Vec<Tightening> {
    let things = world.models.values().flat_map(|model| model.things.values());
    let tightened = things.filter(|thing| !thing.tightening.is_empty());
    tightened.map(|thing| world.tightening(thing).clone()).collect()
}

impl World {
    /// All that is known of a set of fasteners, with the figure that the model gives.
    pub(crate) fn tightening<'t>(&self, thing: &'t ModelThing) -> &'t Tightening {
        thing.reckoned.get_or_init(|| self.reckoned(thing))
    }

    fn reckoned(&self, thing: &ModelThing) -> Tightening {
        let thread = thing.thread.as_ref().and_then(|name| self.thread(name));
        let diameter = thread.as_ref().map(|thread| &thread.diameter);
        let class = thing.strength.as_ref();
        Tightening {
            thing: thing.words.clone(),
            strength: class
                .zip(thread.as_ref())
                .and_then(|(name, thread)| self.strength(name, thread)),
            // Of a face that is no wider than its hole nothing follows; it is told by itself.
            head: self.head(thing, diameter).filter(|head| head.bearing > head.hole),
            friction: self.friction(thing),
            head_friction: thing.fastening.head_friction.clone(),
            prevailing: thing.fastening.prevailing.clone(),
            clamps: thing.fastening.clamps.clone(),
            carries: super::model::carried::of(thing).and_then(Result::ok),
            single_use: thing.marks.contains("single use"),
            stages: thing.tightening.clone(),
            figure_at: thing.fastening.tightened_at.unwrap_or(thing.span),
            own_figure: false,
            because: None,
            least: self.least_preload.clone(),
            pattern: super::pattern::of(thing).and_then(Result::ok),
            declared: thing.span,
            thread,
        }
    }

    /// A figure of the vocabulary that is a single value.
    fn figure_of(&self, keyword: &str, name: &str, value: &str) -> Option<&Exact> {
        let figure = self.figure(keyword, name)?;
        figure.values.get(value)?.range.single()
    }

    fn source_of(&self, keyword: &str, name: &str) -> String {
        let figure = self.figure(keyword, name);
        let source = figure.and_then(|figure| figure.source.clone());
        source.unwrap_or_else(|| format!("as declared: {keyword} {name}"))
    }

    pub(super) fn thread(&self, name: &str) -> Option<Thread> {
        let of = |value: &str| self.figure_of("thread", name, value);
        let diameter = of("diameter")?.clone();
        let figure = self.figure("thread", name)?;
        let unit = figure.values.get("diameter")?.unit;
        let (pitch, unified) = match (of("pitch"), of("threads-per-inch")) {
            (Some(pitch), _) => (pitch.clone(), false),
            (None, Some(threads)) => (&self.units.unit(unit).factor / threads, true),
            (None, None) => return None,
        };
        let source = self.source_of("thread", name);
        Some(Thread { name: name.to_owned(), diameter, pitch, unified, unit, source })
    }

    fn strength(&self, name: &str, thread: &Thread) -> Option<Strength> {
        if !self.made_in(name, thread) {
            return None;
        }
        let above =
            self.figure_of("strength", name, "above").is_some_and(|above| thread.diameter > *above);
        let of = |value: &str| {
            let value = if above { format!("{value}-above") } else { value.to_owned() };
            self.figure_of("strength", name, &value).cloned()
        };
        Some(Strength {
            name: name.to_owned(),
            proof: of("proof")?,
            limit: of("yield")?,
            modulus: self.figure_of("strength", name, "modulus").cloned(),
            source: self.source_of("strength", name),
        })
    }

    /// Says so where a strength class is not made in the size of its thread.
    pub(crate) fn class_in_size(&self, thing: &ModelThing, found: &mut Findings) {
        let (Some(class), Some(name)) = (&thing.strength, &thing.thread) else { return };
        let Some(thread) = self.thread(name) else { return };
        if self.made_in(class, &thread) {
            return;
        }
        let sizes = self.sizes_of(class);
        let of_threads = sizes.and_then(|sizes| self.system_of(sizes.unit)).map(|own| match own {
            System::Si => "metric threads",
            System::Us => "inch threads",
        });
        found.add(&NotMade {
            thing: thing.words.said.clone(),
            thread: name.clone(),
            class: class.clone(),
            span: thing.fastening.class_at.unwrap_or(thing.span),
            sizes: sizes.map(|sizes| sizes.written.clone()).unwrap_or_default(),
            of_threads: of_threads.filter(|_| self.of_other_threads(class, &thread)),
            source: self.source_of("strength", class),
        });
    }

    /// Whether a strength class is made in the size of a thread.
    pub(crate) fn made_in(&self, class: &str, thread: &Thread) -> bool {
        let holds = |sizes: &Limit| sizes.range.contains(&thread.diameter);
        self.sizes_of(class).is_none_or(holds) && !self.of_other_threads(class, thread)
    }

    /// Whether a class of metric threads is said of an inch thread, or a grade of inch threads of a metric one.
    fn of_other_threads(&self, class: &str, thread: &Thread) -> bool {
        let own = self.sizes_of(class).and_then(|sizes| self.system_of(sizes.unit));
        let other = self.system_of(thread.unit);
        own.zip(other).is_some_and(|(own, other)| own != other)
    }

    fn sizes_of(&self, class: &str) -> Option<&Limit> {
        self.figure("strength", class)?.values.get("sizes")
    }

    fn system_of(&self, unit: UnitId) -> Option<System> {
        self.units.unit(unit).system
    }

    pub(super) fn head(&self, thing: &ModelThing, diameter: Option<&Exact>) -> Option<Head> {
        if diameter.is_some_and(|diameter| too_wide(thing, diameter)) {
            return None;
        }
        let usual = self.figures_of("head").into_keys().find(|name| {
            name.starts_with(USUAL_HEAD)
                && self.figure_of("head", name, "diameter") == diameter
                && diameter.is_some()
        });
        let table = |value: &str| self.figure_of("head", usual?, value).cloned();
        let own = &thing.fastening;
        let (bearing, hole) = (own.bearing.clone(), own.hole.clone());
        let source = match (&bearing, &hole, usual) {
            (Some(_), Some(_), _) | (_, _, None) => "as declared with them".to_owned(),
            (None, None, Some(usual)) => self.source_of("head", usual),
            (Some(_), None, Some(usual)) | (None, Some(_), Some(usual)) => {
                format!(
                    "as declared with them; the other of the two: {}",
                    self.source_of("head", usual)
                )
            }
        };
        let (bearing, hole) =
            (bearing.or_else(|| table("bearing"))?, hole.or_else(|| table("hole"))?);
        Some(Head { bearing, hole, source })
    }

    fn friction(&self, thing: &ModelThing) -> Option<Friction> {
        if thing.fastening.friction_refused {
            return None;
        }
        if let Some(measured) = &thing.fastening.friction {
            return Some(measured.clone());
        }
        let name = thing.friction.as_ref()?;
        let figure = self.figure("condition", name)?;
        let range = &figure.values.get("friction")?.range;
        Some(Friction {
            least: range.lower.as_ref()?.value.clone(),
            greatest: range.upper.as_ref()?.value.clone(),
            said: figure.words.said.clone(),
            source: self.source_of("condition", name),
        })
    }
}

/// Whether a face is wider than any that bears: of the widest washers it is seven times the thread (common practice).
pub(super) fn too_wide(thing: &ModelThing, diameter: &Exact) -> bool {
    let most = diameter * Exact::from_integer(10.into());
    thing.fastening.bearing.as_ref().is_some_and(|bearing| *bearing > most)
}
