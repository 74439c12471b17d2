//! Small helpers that read JSON and remember where they are, so that an error can say it.

use serde_json::{Map, Value};

/// A value and the way to it from the top of the file.
#[derive(Clone)]
pub(super) struct Spot<'v> {
    pub(super) value: &'v Value,
    at: String,
}

impl<'v> Spot<'v> {
    pub(super) fn top(value: &'v Value) -> Spot<'v> {
        Spot { value, at: "problem".to_owned() }
    }

    /// An error at this spot.
    pub(super) fn wrong(&self, what: &str) -> String {
        format!("{}: {what}", self.at)
    }

    /// This spot as an object that has no other keys than `known`.
    ///
    /// A misspelt optional key would otherwise silently mean "absent".
    pub(super) fn object(&self, known: &[&str]) -> Result<Fields<'v>, String> {
        let map = self.value.as_object().ok_or_else(|| self.wrong("expected an object {…}"))?;
        if let Some(key) = map.keys().find(|key| !known.contains(&key.as_str())) {
            return Err(self.wrong(&format!("unknown key \"{key}\"; known are {}", known.join(", "))));
        }
        Ok(Fields { map, at: self.at.clone() })
    }

    pub(super) fn list(&self) -> Result<Vec<Spot<'v>>, String> {
        let items = self.value.as_array().ok_or_else(|| self.wrong("expected a list […]"))?;
        Ok(items
            .iter()
            .enumerate()
            .map(|(i, value)| Spot { value, at: format!("{}[{i}]", self.at) })
            .collect())
    }

    /// The members of an object used as a table.
    pub(super) fn table(&self) -> Result<Vec<(&'v str, Spot<'v>)>, String> {
        let map = self.value.as_object().ok_or_else(|| self.wrong("expected an object {…}"))?;
        Ok(map
            .iter()
            .map(|(key, value)| (key.as_str(), Spot { value, at: format!("{}.{key}", self.at) }))
            .collect())
    }

    pub(super) fn text(&self) -> Result<&'v str, String> {
        self.value.as_str().ok_or_else(|| self.wrong("expected a text in quotes"))
    }

    pub(super) fn whole(&self) -> Result<i64, String> {
        self.value.as_i64().ok_or_else(|| self.wrong("expected a whole number"))
    }

    pub(super) fn truth(&self) -> Result<bool, String> {
        self.value.as_bool().ok_or_else(|| self.wrong("expected true or false"))
    }

    /// A pair of whole numbers, least first.
    pub(super) fn span(&self) -> Result<(i64, i64), String> {
        let list = self.list()?;
        let [least, most] = list.as_slice() else {
            return Err(self.wrong("expected [least, most]"));
        };
        Ok((least.whole()?, most.whole()?))
    }

    /// A position in metres, as whole decimetres, a half upwards.
    pub(super) fn position(&self) -> Result<(i64, i64), String> {
        let list = self.list()?;
        let [x, y] = list.as_slice() else {
            return Err(self.wrong("expected [x, y] in metres"));
        };
        Ok((x.decimetres()?, y.decimetres()?))
    }

    fn decimetres(&self) -> Result<i64, String> {
        let metres = self.value.as_f64().ok_or_else(|| self.wrong("expected metres, a number"))?;
        if !(-100_000.0..=100_000.0).contains(&metres) {
            return Err(self.wrong("expected metres between -100000 and 100000"));
        }
        #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
        let whole = (metres * 10.0 + 0.5).floor() as i64;
        Ok(whole)
    }
}

/// The fields of one object.
pub(super) struct Fields<'v> {
    map: &'v Map<String, Value>,
    at: String,
}

impl<'v> Fields<'v> {
    /// The field, unless it is absent or null.
    pub(super) fn get(&self, key: &str) -> Option<Spot<'v>> {
        let value = self.map.get(key)?;
        (!value.is_null()).then(|| Spot { value, at: format!("{}.{key}", self.at) })
    }

    pub(super) fn need(&self, key: &str) -> Result<Spot<'v>, String> {
        self.get(key).ok_or_else(|| format!("{}: \"{key}\" is missing", self.at))
    }

    /// The items of a list that may be absent.
    pub(super) fn items(&self, key: &str) -> Result<Vec<Spot<'v>>, String> {
        self.get(key).map_or(Ok(Vec::new()), |spot| spot.list())
    }

    pub(super) fn whole(&self, key: &str, absent: i64) -> Result<i64, String> {
        self.get(key).map_or(Ok(absent), |spot| spot.whole())
    }

    pub(super) fn truth(&self, key: &str, absent: bool) -> Result<bool, String> {
        self.get(key).map_or(Ok(absent), |spot| spot.truth())
    }

    pub(super) fn text(&self, key: &str, absent: &'v str) -> Result<&'v str, String> {
        self.get(key).map_or(Ok(absent), |spot| spot.text())
    }
}

/// Names in order of first use.
pub(super) fn intern(names: &mut Vec<String>, name: &str) -> usize {
    if let Some(known) = names.iter().position(|n| n == name) {
        return known;
    }
    names.push(name.to_owned());
    names.len() - 1
}
