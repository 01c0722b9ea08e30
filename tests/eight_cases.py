"""A small job for every face and the side it is marked from, to be filled in with face, side and start."""

EIGHT = """
job: eight cases
enclosure: {{mark: E-1, kind: cabinet, width: 14, height: 17, depth: 7, back gap: 1/4}}
faces:
  - face: {face}
    mark from: {side}
    rows:
      - strut: 13/16
        gap: 7/8
        place: {{from: {start}, to: centre, distance: 2-1/8}}
        raceways:
          - {{type: RMC, size: 2}}
          - {{type: EMT, size: 3/4, gap before: 1-5/8}}
          - {{type: EMT, size: 1-1/4}}
print: {{paper: letter}}
"""
