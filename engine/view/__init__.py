"""View-models: state -> what every face shows. Pure; the screens, the plain face and the page show the same words."""
