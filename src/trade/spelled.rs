//! Closed sets of words: an enum whose members are spelled out in the database, in exports and in addresses.

/// An enum with one fixed word for each member. An unknown word is an error, never a default.
pub trait Spelled: Copy + Eq + std::fmt::Debug + Send + Sync + 'static {
    /// Every member, in the order people should read them.
    const ALL: &'static [Self];
    /// The member's word.
    fn word(self) -> &'static str;
    /// The member a word stands for.
    #[must_use]
    fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.word() == word)
    }
}

/// Declares an enum together with its words.
#[macro_export]
macro_rules! spelled {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$doc])* $member),+ }

        impl $crate::trade::spelled::Spelled for $name {
            const ALL: &'static [Self] = &[$(Self::$member),+];
            fn word(self) -> &'static str {
                match self { $(Self::$member => $word),+ }
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, to: S) -> ::core::result::Result<S::Ok, S::Error> {
                to.serialize_str($crate::trade::spelled::Spelled::word(*self))
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> ::core::result::Result<Self, D::Error> {
                let word = <std::borrow::Cow<'de, str>>::deserialize(from)?;
                <Self as $crate::trade::spelled::Spelled>::from_word(&word)
                    .ok_or_else(|| serde::de::Error::custom(format!("unknown word “{word}”")))
            }
        }
    };
}

#[cfg(test)]
mod tests {
    use super::Spelled;

    spelled!(Ink { Black = "black", Asphaltum = "asphaltum" });

    #[test]
    fn a_word_comes_back_as_its_member_and_an_unknown_one_does_not() {
        for ink in Ink::ALL {
            assert_eq!(Ink::from_word(ink.word()), Some(*ink));
        }
        assert_eq!(Ink::from_word("red"), None);
        assert_eq!(serde_json::to_string(&Ink::Black).unwrap(), "\"black\"");
        assert!(serde_json::from_str::<Ink>("\"red\"").is_err());
    }
}
