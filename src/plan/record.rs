//! The two macros that keep struct, key table and reader one and the same list.

use serde_json::Value;

use super::reader::{Reader, Slot};
use super::spelling::Near;
use crate::schema::{self, Defs};

/// One key of the plan language.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    pub name: &'static str,
    /// What the key says, for the schema and the manual.
    pub what: &'static str,
    /// What its value looks like.
    pub wants: &'static str,
    pub needed: bool,
    /// The schema of its value.
    pub schema: fn(&mut Defs) -> Value,
}

/// A mapping with known keys.
pub trait Record: Default {
    /// What such a thing is called in messages: "a run".
    const WHAT: &'static str;
    const KEYS: &'static [Key];
    /// What such a thing is, in a sentence.
    const ABOUT: &'static str;
    /// Sets the field of the key in `slot`; `false` for a key that is not known.
    fn set(&mut self, reader: &mut Reader<'_>, key: &str, slot: Slot) -> bool;
    /// Whether the key is there, readable or not.
    fn has(&self, key: &str) -> bool;
    /// Takes the key as there but not readable.
    fn spoil(&mut self, key: &str);
    /// Needed keys that are not there. A value that could not be read is there.
    fn missing(&self) -> Vec<&'static str>;
}

/// The schema of a record: its keys and no others.
pub fn schema_of<R: Record>(defs: &mut Defs) -> Value {
    defs.define(R::WHAT, |defs| {
        let key = |key: &Key| {
            let value = schema::described((key.schema)(defs), key.what);
            (key.name.to_owned(), value, key.needed)
        };
        schema::object(R::WHAT, R::ABOUT, R::KEYS.iter().map(key))
    })
}

/// The key that a misspelt one is read as: the only one near it. Reading goes on with it, so that
/// one slip is one mistake and not also a missing key, or a section without its things.
pub fn given_as(near: Option<&Near<'_>>, keys: &[Key]) -> Option<&'static str> {
    let word = near?.only()?;
    keys.iter().map(|key| key.name).find(|key| *key == word)
}

/// Declares a record: a struct of [`Field`](super::Field)s, its key table and its reader.
///
/// ```text
/// record! {
///     /// One pull of cable.
///     Run, "a run" {
///         /// Where the pull starts.
///         @needed "from" from: Ref<Nodes>,
///         "length" length: Long,
///     }
///     /// Keys that few runs have.
///     seldom RunSeldom {
///         "zone" zone: Zone,
///     }
/// }
/// ```
///
/// Keys under `seldom` are kept in a box that most things do without; they are read like the
/// others. A plan holds a hundred thousand things, and each key that none of them has takes room.
macro_rules! record {
    ($(#[doc = $doc:literal])* $name:ident, $what:literal {
        $($(#[doc = $key_doc:literal])* $(@$needed:ident)? $key:literal $field:ident: $shape:ty,)*
    }
    $(
        $(#[doc = $seldom_doc:literal])* seldom $seldom:ident {
            $($(#[doc = $rare_doc:literal])* $rare_key:literal $rare:ident: $rare_shape:ty,)*
        }
    )?) => {
        $(#[doc = $doc])*
        #[derive(Debug, Default)]
        pub struct $name {
            $($(#[doc = $key_doc])* pub $field: $crate::plan::Field<$shape>,)*
            $(seldom: Option<Box<$seldom>>,)?
        }

        $(
            $(#[doc = $seldom_doc])*
            #[derive(Debug, Default)]
            pub struct $seldom {
                $($(#[doc = $rare_doc])* pub $rare: $crate::plan::Field<$rare_shape>,)*
            }

            impl std::ops::Deref for $name {
                type Target = $seldom;
                fn deref(&self) -> &$seldom {
                    static NOTHING: std::sync::LazyLock<$seldom> =
                        std::sync::LazyLock::new($seldom::default);
                    self.seldom.as_deref().unwrap_or(&NOTHING)
                }
            }
        )?

        impl $crate::plan::record::Record for $name {
            const WHAT: &'static str = $what;
            const KEYS: &'static [$crate::plan::record::Key] = &[$(
                $crate::plan::record::Key {
                    name: $key,
                    what: concat!($($key_doc),*),
                    wants: <$shape as $crate::plan::shape::Shape>::WANTS,
                    needed: record!(@needed $($needed)?),
                    schema: <$shape as $crate::schema::Schema>::schema,
                },
            )*
            $($($crate::plan::record::Key {
                name: $rare_key,
                what: concat!($($rare_doc),*),
                wants: <$rare_shape as $crate::plan::shape::Shape>::WANTS,
                needed: false,
                schema: <$rare_shape as $crate::schema::Schema>::schema,
            },)*)?];
            const ABOUT: &'static str = concat!($($doc),*);
            fn set(
                &mut self,
                reader: &mut $crate::plan::reader::Reader<'_>,
                key: &str,
                slot: $crate::plan::reader::Slot,
            ) -> bool {
                match key {
                    $($key => reader.set(&mut self.$field, $key, slot),)*
                    $($($rare_key => {
                        let seldom = self.seldom.get_or_insert_default();
                        reader.set(&mut seldom.$rare, $rare_key, slot);
                    })*)?
                    _ => return false,
                }
                true
            }
            fn has(&self, key: &str) -> bool {
                match key {
                    $($key => !self.$field.is_absent(),)*
                    $($($rare_key => !self.$rare.is_absent(),)*)?
                    _ => false,
                }
            }
            fn spoil(&mut self, key: &str) {
                match key {
                    $($key => self.$field = $crate::plan::Field::Bad,)*
                    $($($rare_key => {
                        self.seldom.get_or_insert_default().$rare = $crate::plan::Field::Bad;
                    })*)?
                    _ => {}
                }
            }
            fn missing(&self) -> Vec<&'static str> {
                let mut missing = Vec::new();
                $(if record!(@needed $($needed)?) && self.$field.is_absent() {
                    missing.push($key);
                })*
                missing
            }
        }

        impl $crate::schema::Schema for $name {
            fn schema(defs: &mut $crate::schema::Defs) -> serde_json::Value {
                $crate::plan::record::schema_of::<Self>(defs)
            }
        }

        impl $crate::plan::shape::Shape for $name {
            const WANTS: &'static str = concat!("the keys of ", $what);
            fn read(
                reader: &mut $crate::plan::reader::Reader<'_>,
                node: $crate::yaml::NodeId,
            ) -> Option<Self> {
                reader.record(node)
            }
        }
    };
    (@needed needed) => { true };
    (@needed) => { false };
}
pub(crate) use record;

/// Declares a set of words that a key may take.
macro_rules! words {
    ($(#[doc = $doc:literal])* $name:ident, $what:literal {
        $($(#[doc = $word_doc:literal])* $word:literal $(| $also:literal)* => $variant:ident,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Deserialize)]
        pub enum $name {
            $($(#[doc = $word_doc])* #[serde(rename = $word)] $variant,)*
        }

        impl $name {
            /// Every word, as it is spelled in a plan.
            pub const WORDS: &'static [&'static str] = &[$($word),*];

            /// Every spelling that is read: the words, and other names for them.
            const SPELLINGS: &'static [&'static str] = &[$($word $(, $also)*),*];

            /// The word as a plan spells it.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }

            /// The meaning of a word.
            pub fn parse(text: &str) -> Option<Self> {
                match text {
                    $($word $(| $also)* => Some(Self::$variant),)*
                    _ => None,
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }

        impl $crate::schema::Schema for $name {
            fn schema(defs: &mut $crate::schema::Defs) -> serde_json::Value {
                defs.define($what, |_| {
                    let words = $crate::schema::one_of(Self::SPELLINGS.iter().copied());
                    $crate::schema::described(words, concat!($($doc),*))
                })
            }
        }

        impl $crate::plan::shape::Shape for $name {
            const WANTS: &'static str = concat!("one of: ", words!(@list $($word),*));
            fn read(
                reader: &mut $crate::plan::reader::Reader<'_>,
                node: $crate::yaml::NodeId,
            ) -> Option<Self> {
                let text = reader.scalar(node, $what)?;
                Self::parse(text)
                    .or_else(|| Self::parse(reader.unknown_word(node, text, $what, Self::WORDS)?))
            }
        }
    };
    (@list $first:literal $(, $rest:literal)*) => { concat!($first $(, ", ", $rest)*) };
}
pub(crate) use words;
