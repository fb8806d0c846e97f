"""The part of the context http://www.w3.org/ns/anno.jsonld that the program's annotations use.

From memory of the Web Annotation Vocabulary (W3C 2017), so that no reader has to fetch it.
"""

OA = "http://www.w3.org/ns/oa#"
AS = "http://www.w3.org/ns/activitystreams#"
DC = "http://purl.org/dc/elements/1.1/"
TERMS = "http://purl.org/dc/terms/"
RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_VOCAB = {"@type": "@vocab"}

CONTEXT = {
    "@context": {
        "id": {"@id": "@id", "@type": "@id"},
        "type": {"@id": "@type", "@type": "@id"},
        "Annotation": f"{OA}Annotation",
        "AnnotationCollection": f"{AS}OrderedCollection",
        "AnnotationPage": f"{AS}OrderedCollectionPage",
        "TextualBody": f"{OA}TextualBody",
        "SpecificResource": f"{OA}SpecificResource",
        "FragmentSelector": f"{OA}FragmentSelector",
        "assessing": f"{OA}assessing",
        "describing": f"{OA}describing",
        "identifying": f"{OA}identifying",
        "tagging": f"{OA}tagging",
        "body": {"@id": f"{OA}hasBody", "@type": "@id"},
        "target": {"@id": f"{OA}hasTarget", "@type": "@id"},
        "source": {"@id": f"{OA}hasSource", "@type": "@id"},
        "selector": {"@id": f"{OA}hasSelector", "@type": "@id"},
        "motivation": {"@id": f"{OA}motivatedBy", **_VOCAB},
        "purpose": {"@id": f"{OA}hasPurpose", **_VOCAB},
        "conformsTo": {"@id": f"{TERMS}conformsTo", "@type": "@id"},
        "value": f"{RDF}value",
        "format": f"{DC}format",
        "language": f"{DC}language",
        "label": f"{RDFS}label",
        "items": {"@id": f"{AS}items", "@type": "@id", "@container": "@list"},
        "first": {"@id": f"{AS}first", "@type": "@id"},
        "startIndex": {"@id": f"{AS}startIndex"},
        "total": {"@id": f"{AS}totalItems"},
    }
}
